/** Many entries followed at once are the same course as one after the other, and leave the state they began from as it was. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { defaultSettings } from "../../src/conventions/settings.js";
import { collector } from "../../src/infusion/collected.js";
import { follow, followAll } from "../../src/infusion/course.js";
import { inOrder } from "../../src/infusion/order.js";
import { NOTHING_KNOWN } from "../../src/infusion/state.js";
import { encounterOf } from "./arbitrary.js";
import { PATIENCE, runs } from "./runs.js";
import { ODD_NUMBERS, REALISTIC } from "./scales.js";

const settings = () => defaultSettings;

const cutSomewhere = fc.record({
  stay: fc.oneof(encounterOf(REALISTIC), encounterOf(ODD_NUMBERS)),
  part: fc.integer({ min: 0, max: 100 }),
});

describe("entries followed at once", () => {
  it(
    "give the state and the flows of one after the other",
    () => {
      fc.assert(
        fc.property(cutSomewhere, ({ stay, part }) => {
          const entries = inOrder(stay.entries);
          const cut = Math.floor((part * entries.length) / 100);
          const [alone, together] = [collector(), collector()];
          let state = NOTHING_KNOWN;
          for (const one of entries) state = follow(state, one, settings, alone.sink);
          const half = followAll(NOTHING_KNOWN, entries.slice(0, cut), settings, together.sink);
          const kept = structuredClone(half);
          const whole = followAll(half, entries.slice(cut), settings, together.sink);
          expect(whole).toEqual(state);
          const [{ sink: _, ...one }, { sink: __, ...all }] = [alone, together];
          expect(all).toEqual(one);
          expect(half).toEqual(kept);
          expect(NOTHING_KNOWN.channels.size).toBe(0);
        }),
        runs(100),
      );
    },
    PATIENCE,
  );
});
