/**
 * What an entry near now costs on the first day of a stay and on the ninetieth: two stays of the same
 * shape in one ledger, an entry to each in turns.
 */

import { BenchLedger } from "./ledgers.mjs";
import { inTurns, median } from "./measuring.mjs";
import { DAYS, ENDS, LONG, NEW } from "./stays.mjs";

const BOUND = 1.2;

/** @param {{ quick: boolean, copy: () => string }} asked `copy` is a fresh copy of the stays. */
export async function recording({ quick, copy }) {
  const ledger = await BenchLedger.open(copy(), ENDS);
  let posts = 0;
  const post = (encounter) => () => {
    ledger.now = ENDS + posts++ * 1_000;
    const rate = 3 + (posts % 40) / 10;
    const at = new Date(ledger.now).toISOString();
    return ledger.post(encounter, [{ kind: "rate-changed", at, channel: "pressor", rate }]);
  };
  const times = await inTurns(
    { first: post(NEW), ninetieth: post(LONG) },
    { rounds: quick ? 300 : 1_500, warmUp: 100 },
  );
  await ledger.close();
  const [first, ninetieth] = [median(times.first), median(times.ninetieth)];
  return [
    {
      what: `POST of an entry near now, day ${DAYS} against day 1`,
      measured: `${(ninetieth / first).toFixed(2)} × (${ninetieth.toFixed(2)} ms, ${first.toFixed(2)} ms)`,
      bound: `≤ ${BOUND} ×`,
      holds: ninetieth / first <= BOUND,
    },
  ];
}
