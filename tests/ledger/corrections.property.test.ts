/** Corrections of corrections, in whatever order and grouping they come, count as the naive model says. */

import fc from "fast-check";
import { expect, it } from "vitest";
import { type Act, counts, originals, stateOf } from "./families.js";
import { type Json, Stay } from "./stay.js";
import { amend, drank, type Told, void_ } from "./telling.js";

const LONG = Number(process.env.LONG_PROPERTIES ?? 0);

interface Said {
  readonly what: "fact" | "amendment" | "void";
  readonly target: number;
  /** The hour after 06:00 it says, and the volume. */
  readonly hour: number;
  readonly volume: number;
  /** Whether a new request begins with it, and whether the ledger forgot everything before that. */
  readonly request: "same" | "next" | "forgotten";
}

const said: fc.Arbitrary<Said> = fc.record({
  what: fc.constantFrom("fact", "amendment", "amendment", "void", "void"),
  target: fc.nat({ max: 1_000 }),
  hour: fc.nat({ max: 7 }),
  volume: fc.integer({ min: 1, max: 500 }),
  request: fc.constantFrom("same", "next", "next", "forgotten"),
});

/** Acts and the entries that tell them. A void is only ever voided, never amended. */
function acts(told: readonly Said[]): { act: Act; entry: Told; request: Said["request"] }[] {
  const so: { act: Act; entry: Told; request: Said["request"]; kind: string }[] = [];
  told.forEach(({ what, target, hour, volume, request }, i) => {
    const id = `e-${i}`;
    const clock = `${String(6 + hour).padStart(2, "0")}:30`;
    const candidates = so.filter(({ act }) => what !== "amendment" || act.what !== "void");
    const named = candidates[target % Math.max(1, candidates.length)];
    if (what === "fact" || named === undefined) {
      so.push({
        act: { id, corrects: null, what: "fact", says: volume },
        entry: drank(clock, volume, { id }),
        request,
        kind: "",
      });
      return;
    }
    const corrects = named.act.id;
    const entry = what === "void" ? void_(corrects, { id }) : amend(corrects, drank(clock, volume), { id });
    so.push({ act: { id, corrects, what, says: volume }, entry, request, kind: "" });
  });
  return so;
}

it("what counts, what each entry is shown as and what the hours come to follow from the corrections alone", async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(said, { minLength: 2, maxLength: 14 }), async (told) => {
      const stay = await Stay.begun();
      const so = acts(told);
      let request: Told[] = [];
      for (const { entry, request: begins } of so) {
        if (begins !== "same" && request.length > 0) {
          await stay.post(request);
          request = [];
        }
        if (begins === "forgotten") await stay.withoutCheckpoints();
        request.push(entry);
      }
      await stay.post(request);
      const all = so.map(({ act }) => act);
      const shown = (await stay.entries()).filter(({ kind }) => kind !== "admitted");
      expect(shown.map((entry: Json) => [entry.id, entry.recorded.state])).toEqual(
        all.map((act) => [act.id, stateOf(act, all)]),
      );
      const counted = originals(all).flatMap((original) => counts(original, all) ?? []);
      const { total } = await stay.volumes("2026-03-04/day", { per: "category", by: "whole" });
      const before = await stay.volumes("2026-03-03/night", { per: "category", by: "whole" });
      expect(total + before.total).toBe(counted.reduce((sum, volume) => sum + volume, 0));
    }),
    { numRuns: LONG > 0 ? 500 * LONG : 25, seed: 3 },
  );
});
