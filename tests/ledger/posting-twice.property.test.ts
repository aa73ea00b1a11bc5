/** Posting the same request twice is posting it once, whenever the second comes and whatever came between. */

import fc from "fast-check";
import { expect, it } from "vitest";
import type { Written } from "../../src/ledger/ledger.js";
import type { Outcome } from "../../src/ledger/refusal.js";
import { HOUR, instant, MINUTE } from "../../src/time/instant.js";
import { BEGINS, beginning, doDeed, requestOf, wellFormed } from "./deeds.js";
import type { Json, Stay } from "./stay.js";
import { story } from "./story.js";

const LONG = Number(process.env.LONG_PROPERTIES ?? 0);
/** How long a property may take, in ms. */
const PATIENCE = 120_000 * (LONG > 0 ? 10 * LONG : 1);
const runs = (few: number) => (LONG > 0 ? { numRuns: few * 10 * LONG } : { numRuns: few, seed: 20_260_309 });

/** Everything that can be seen of the stay: its head and entries, its volumes and totals. */
async function everything(stay: Stay): Promise<Json> {
  const period = { from: instant(BEGINS - 24 * HOUR), to: instant(stay.now + 24 * HOUR) };
  return {
    sequence: await stay.sequence(),
    entries: await stay.entries(),
    volumes: await stay.volumes(period, { by: "shift", per: "bag" }),
    totals: await stay.totals(),
  };
}

/** What a request was answered: its entries as they were recorded, whatever became of them since. */
function recorded(outcome: Outcome<Written>): Json {
  if (outcome.refused !== undefined) return outcome.refused;
  return JSON.parse(outcome.done.body).entries.map(({ recorded, ...entry }: Json) => {
    // The zone it is told in follows the patient, who may have been moved since.
    const { state: _, at, ...rest } = recorded;
    return { ...entry, recorded: { ...rest, at: Date.parse(at) } };
  });
}

const statusOf = (outcome: Outcome<Written>) =>
  outcome.refused === undefined ? outcome.done.status : outcome.refused.problem;

it(
  "a request that comes again changes nothing, and is answered with the entries it recorded",
  async () => {
    await fc.assert(
      fc.asyncProperty(story(8), fc.array(fc.nat(), { minLength: 8, maxLength: 8 }), async (deeds, picks) => {
        const stay = await beginning();
        const taken: { send: () => Promise<Outcome<Written>>; first: Outcome<Written> }[] = [];
        for (const [i, deed] of deeds.entries()) {
          stay.itIs(stay.now + deed.later * MINUTE);
          const request = await requestOf(stay, deed, i);
          if (request === undefined) await doDeed(stay, { ...deed, later: 0 }, i);
          else if (wellFormed(request.entries)) {
            const send = () => stay.send(request.entries, { as: request.as });
            const first = await send();
            if (first.refused === undefined) taken.push({ send, first });
            else expect(await send()).toEqual(first);
          }
          const again = [...taken.slice(-1), ...taken.slice(picks[i]! % (taken.length + 1)).slice(0, 1)];
          for (const { send, first } of again) {
            if (picks[i]! % 3 === 0) await stay.reopened();
            const before = await everything(stay);
            const second = await send();
            expect(recorded(second)).toEqual(recorded(first));
            expect(statusOf(second)).toBe(200);
            expect(await everything(stay)).toEqual(before);
          }
        }
      }),
      runs(12),
    );
  },
  PATIENCE,
);

it(
  "of a request that comes again with more in it, only what is new is recorded",
  async () => {
    await fc.assert(
      fc.asyncProperty(story(4), async (deeds) => {
        const [stay, singly] = [await beginning(), await beginning()];
        for (const [i, deed] of deeds.entries()) {
          if (deed.deed !== "chart") continue;
          for (const one of [stay, singly]) one.itIs(one.now + deed.later * MINUTE);
          const { entries, as } = (await requestOf(stay, deed, i))!;
          for (let upTo = 1; upTo <= entries.length; upTo++) {
            const alone = await singly.send(entries.slice(upTo - 1, upTo), { as });
            const together = await stay.send(entries.slice(0, upTo), { as });
            expect(statusOf(together)).toBe(statusOf(alone));
            if (alone.refused !== undefined) break;
          }
          expect(await stay.sequence()).toBe(await singly.sequence());
          const ofIts = async (one: Stay) => {
            const { volumes, totals } = await everything(one);
            return [volumes.rows, volumes.total, totals.channels];
          };
          expect(await ofIts(stay)).toEqual(await ofIts(singly));
        }
      }),
      runs(8),
    );
  },
  PATIENCE,
);
