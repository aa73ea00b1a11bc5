/**
 * The database that the benches of long stays share: one stay of 90 days and some 30,000 entries, three
 * stays of two days that have a shift in common with it, and one that began on its last day.
 */

import { BenchLedger } from "./ledgers.mjs";
import { BEGINS, DAY, HOUR, story } from "./story.mjs";

export const DAYS = 90;
export const LONG = "long-stay";
export const NEW = "new-stay";
/** Answers nobody compares, that warm a server up. */
export const OTHER = "other-stay";

/** A shift of the long stay, and the short stay whose second day it is as well. */
export const SHIFTS = [
  { when: "early", day: 1 },
  { when: "middle", day: DAYS / 2 },
  { when: "last", day: DAYS - 1 },
].map(({ when, day }) => ({ when, day, shift: `${dateOf(day)}/day`, short: `short-stay-${when}` }));

/** The clock when the story has been told. */
export const ENDS = BEGINS + DAYS * DAY;

/**
 * Fills a database up to `ENDS`; tells how many entries the long stay has, and a caller's token.
 *
 * @param {string} path
 */
export async function fill(path) {
  const hours = story({ hours: DAYS * 24, perHour: 14 });
  const ledger = await BenchLedger.open(path, BEGINS);
  await ledger.openUnit();
  const day = (from, to) => hours.slice(from * 24, to * 24);
  await ledger.tell(LONG, hours);
  for (const { day: second, short } of SHIFTS) await ledger.tell(short, day(second - 1, second + 1));
  await ledger.tell(OTHER, day(DAYS - 2, DAYS));
  await ledger.tell(NEW, day(DAYS - 1, DAYS));
  const token = await ledger.token();
  await ledger.close();
  const entries = hours[0].opening.length + hours.reduce((sum, { entries }) => sum + entries.length, 0);
  return { entries, token };
}

function dateOf(day) {
  return new Date(BEGINS + day * DAY - 5 * HOUR).toISOString().slice(0, 10);
}
