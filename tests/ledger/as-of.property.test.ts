/**
 * Every answer can be had as of any earlier moment of recording, and is then exactly what it was: from
 * memory, from a ledger opened anew, and with every checkpoint thrown away.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { AsOf } from "../../src/ledger/ledger.js";
import { type Instant, instant, later } from "../../src/time/instant.js";
import { BEGINS, beginning, doDeed } from "./deeds.js";
import type { Json, Stay } from "./stay.js";
import { type Deed, story } from "./story.js";

const LONG = Number(process.env.LONG_PROPERTIES ?? 0);
/** How long a property may take, in ms. */
const PATIENCE = 120_000 * (LONG > 0 ? 10 * LONG : 1);
/** Few runs of one seed, or many of a seed that is told when one fails. */
const runs = (few: number) => (LONG > 0 ? { numRuns: few * 10 * LONG } : { numRuns: few, seed: 20_260_304 });

const HOUR = 3_600_000;

interface Coordinates {
  readonly asOf?: AsOf;
  readonly until?: Instant;
}

/** What somebody at the bedside may have looked at: a day by the hour, the stay by shifts, the totals. */
async function seen(stay: Stay, coordinates: Coordinates, now: number): Promise<Json> {
  const day = { from: instant(now - 24 * HOUR), to: instant(now + HOUR) };
  const whole = { from: instant(BEGINS - HOUR), to: instant(now + 24 * HOUR) };
  return {
    hours: await stay.volumes(day, { per: "bag", ...coordinates }),
    shifts: await stay.volumes(whole, { by: "shift", per: "line", ...coordinates }),
    totals: await stay.totals(coordinates),
  };
}

/** Tells a story and keeps what was seen after every deed. */
async function told(
  stay: Stay,
  deeds: readonly Deed[],
  before: (stay: Stay) => Promise<unknown> = async () => {},
) {
  const kept: { sequence: number; now: Instant; outcome: unknown; saw: Json }[] = [];
  for (const [i, deed] of deeds.entries()) {
    await before(stay);
    const outcome = await doDeed(stay, deed, i);
    kept.push({
      sequence: await stay.sequence(),
      now: stay.now,
      outcome,
      saw: await seen(stay, {}, stay.now),
    });
  }
  return kept;
}

describe("an answer as of an earlier moment", () => {
  it(
    "is exactly what it was, from memory, opened anew and without checkpoints",
    async () => {
      await fc.assert(
        fc.asyncProperty(story(12), async (deeds) => {
          const stay = await beginning();
          const kept = await told(stay, deeds);
          stay.itIs(stay.now + 30 * HOUR);
          const sameAsThen = async () => {
            for (const { sequence, now, saw } of kept) {
              expect(await seen(stay, { asOf: { sequence }, until: now }, now)).toEqual(saw);
              expect(await seen(stay, { asOf: { recordedBy: now } }, now)).toEqual(saw);
            }
          };
          await sameAsThen();
          await stay.reopened();
          await sameAsThen();
          await stay.withoutCheckpoints();
          await sameAsThen();
        }),
        runs(8),
      );
    },
    PATIENCE,
  );

  it(
    "is the same with and without checkpoints at every sequence, also within a request",
    async () => {
      await fc.assert(
        fc.asyncProperty(story(8), async (deeds) => {
          const stay = await beginning();
          await told(stay, deeds);
          const now = later(stay.now, HOUR);
          stay.itIs(now);
          const every = async () => {
            const answers: Json[] = [];
            for (let sequence = 1; sequence <= (await stay.sequence()); sequence++) {
              answers.push(await seen(stay, { asOf: { sequence } }, now));
            }
            return answers;
          };
          const before = await every();
          await stay.withoutCheckpoints();
          expect(await every()).toEqual(before);
        }),
        runs(8),
      );
    },
    PATIENCE,
  );
});

describe("computing afresh", () => {
  it(
    "comes to what computing from memory comes to, whatever was forgotten before each request",
    async () => {
      await fc.assert(
        fc.asyncProperty(story(10), async (deeds) => {
          const [warm, cold, bare] = [await beginning(), await beginning(), await beginning()];
          const expected = await told(warm, deeds);
          expect(await told(cold, deeds, (stay) => stay.reopened())).toEqual(expected);
          expect(await told(bare, deeds, (stay) => stay.withoutCheckpoints())).toEqual(expected);
        }),
        runs(5),
      );
    },
    PATIENCE,
  );
});
