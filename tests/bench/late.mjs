/**
 * What a late entry costs: the span back to where its effect ends. A rate of the pressor ends with its
 * next rate, its next reading and the weighing of its bag, within hours; a rate of the maintenance
 * changes what its bag held when the next one was hung, of which checkpoints know for a day.
 */

import { BenchLedger } from "./ledgers.mjs";
import { inTurns, median } from "./measuring.mjs";
import { ENDS, LONG } from "./stays.mjs";
import { DAY, HOUR, MINUTE } from "./story.mjs";

const LATENESS = [
  { late: "1 h", by: HOUR },
  { late: "12 h", by: 12 * HOUR },
  { late: "3 d", by: 3 * DAY },
  { late: "30 d", by: 30 * DAY },
  { late: "89 d", by: 89 * DAY },
];
const EFFECTS = [
  { effect: "ending within hours", channel: "pressor", rate: 3 },
  { effect: "on what a bag had left", channel: "maintenance", rate: 75 },
];

const JUST_AFTER = "near now, just after a late one";
const NEAR = "near now";

/** @param {{ quick: boolean, copy: () => string }} asked */
export async function late({ quick, copy }) {
  const ledger = await BenchLedger.open(copy(), ENDS);
  let posts = 0;
  const post = (channel, rate, by) => () => {
    // Another minute and rate each time, or an equal state would end the effect at once.
    const at = new Date(ENDS - by + (8 + (posts % 30)) * MINUTE).toISOString();
    const value = rate + (posts++ % 40) / 10;
    return ledger.post(LONG, [{ kind: "rate-changed", at, channel, rate: value }]);
  };
  const next = () => {
    ledger.now += 1_000;
    const at = new Date(ledger.now).toISOString();
    return ledger.post(LONG, [
      { kind: "rate-changed", at, channel: "pressor", rate: 3 + (posts++ % 40) / 10 },
    ]);
  };
  const subjects = Object.fromEntries(
    EFFECTS.flatMap(({ effect, channel, rate }) =>
      LATENESS.map(({ late, by }) => [`${late} late, its effect ${effect}`, post(channel, rate, by)]),
    ),
  );
  // The first entry after a late one finds nothing in memory; the second does.
  const times = await inTurns(
    { ...subjects, [JUST_AFTER]: next, [NEAR]: next },
    { rounds: quick ? 2 : 7, warmUp: 1 },
  );
  await ledger.close();
  const unit = median(times[NEAR]);
  return Object.entries(times).map(([what, taken]) => ({
    what: `POST ${what}`,
    measured: `${median(taken).toFixed(1)} ms (${(median(taken) / unit).toFixed(1)} × near now)`,
    bound: "",
    holds: null,
  }));
}
