/**
 * The audit keeps what it worked out, and is the same as worked out afresh: whatever is recorded in between, of
 * whatever time, and however much later it is asked. As of an earlier moment it is what it was then.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Instant } from "../../src/time/instant.js";
import { beginning, doDeed } from "./deeds.js";
import { bedside, MINUTE, pay, visits } from "./readings.js";
import { done, type Json, type Stay } from "./stay.js";
import { story } from "./story.js";

const LONG = Number(process.env.LONG_PROPERTIES ?? 0);
const PATIENCE = 120_000 * (LONG > 0 ? 10 * LONG : 1);
const runs = (few: number) => (LONG > 0 ? { numRuns: few * 10 * LONG } : { numRuns: few, seed: 20_261_128 });

/** The shifts of a unit from where the stories begin, as far as they go. */
const SHIFTS: Readonly<Record<string, readonly string[]>> = {
  east: ["06/day", "06/night", "07/day", "07/night", "08/day"],
  west: ["06/early", "06/late", "06/night", "07/early"],
};

/** Of every shift that has begun what an audit says, by a ledger that may have kept something of it. */
async function audits(stay: Stay, query: Parameters<Stay["audit"]>[1] = {}): Promise<Json[]> {
  const all: Json[] = [];
  for (const [unit, shifts] of Object.entries(SHIFTS)) {
    for (const shift of shifts) {
      const asked = stay.audit(`2026-03-${shift}`, { unit, ...query });
      all.push(await asked.catch((error: Error) => error.message));
    }
  }
  return all;
}

async function sameAfresh(stay: Stay): Promise<void> {
  expect(await audits(stay)).toEqual(await audits(stay, { ledger: stay.afresh() }));
}

describe("an audit with what was kept is one worked out afresh", () => {
  it(
    "whatever is charted, corrected, moved and decided",
    async () => {
      await fc.assert(
        fc.asyncProperty(story(12), async (deeds) => {
          const stay = await beginning();
          for (const [i, deed] of deeds.entries()) {
            await doDeed(stay, deed, i);
            await sameAfresh(stay);
          }
          await sameAfresh(stay.itIs(stay.now + 20 * MINUTE));
        }),
        runs(12),
      );
    },
    PATIENCE,
  );

  it(
    "whatever is read, settled and signed",
    async () => {
      await fc.assert(
        fc.asyncProperty(visits(12), fc.array(fc.nat(11), { maxLength: 4 }), async (all, signed) => {
          const stay = await bedside();
          for (const [i, visit] of all.entries()) {
            await pay(stay, visit, i);
            await sameAfresh(stay);
            if (!signed.includes(i)) continue;
            const { shifts } = done(await stay.ledger.encounter("stay-1")).answer as Json;
            for (const { date, name } of shifts) await stay.signs(`${date}/${name}`);
            await sameAfresh(stay);
          }
        }),
        runs(12),
      );
    },
    PATIENCE,
  );
});

it(
  "an audit as of an earlier moment is what it was then, with and without checkpoints",
  async () => {
    await fc.assert(
      fc.asyncProperty(story(8), async (deeds) => {
        const stay = await beginning();
        const kept: { now: Instant; saw: Json[] }[] = [];
        for (const [i, deed] of deeds.entries()) {
          await doDeed(stay, deed, i);
          kept.push({ now: stay.now, saw: await audits(stay) });
        }
        stay.itIs(stay.now + 30 * 60 * MINUTE);
        for (const { now, saw } of kept) expect(await audits(stay, { recordedBy: now })).toEqual(saw);
        await stay.withoutCheckpoints();
        for (const { now, saw } of kept) expect(await audits(stay, { recordedBy: now })).toEqual(saw);
      }),
      runs(6),
    );
  },
  PATIENCE,
);
