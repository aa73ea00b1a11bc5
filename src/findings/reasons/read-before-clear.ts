/** The total was read, then cleared, and the old number was charted at a time after the clear. */

import { minus } from "../../infusion/quantity.js";
import { readingAs } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { likeliest, type Supposed } from "./supposed.js";

export function readBeforeClear(d: Disagreeing): Reason[] {
  return likeliest("read-before-clear", d, asItWasCleared(d));
}

/** The reading held against what was counted up to the clear that it was judged from. */
function* asItWasCleared(d: Disagreeing): Iterable<Supposed> {
  const { channel, total, over, value, checkOnly } = d.reading;
  // Totals that are kept apart may have been cleared apart: their sum has no clear of its own.
  if (checkOnly) return;
  const clear = d.collected.clears.find(
    (one) => one.entry === over.entry && one.channel === channel && one.total === total,
  );
  if (clear === undefined) return;
  const { at, expected } = clear;
  const tell = () => ({
    sentence:
      `Before it was cleared at ${d.words.time(at)} the ${total} total should have shown ` +
      `${d.words.volume(expected)}: it may have been read then, and charted as of later.`,
    proposals: [readingAs(d, { at, position: "before" }, "It was read before the total was cleared.")],
  });
  yield {
    increment: minus(value, clear.over.base),
    would: clear.lost,
    elsewhere: true,
    share: 1,
    tell,
  };
}
