/**
 * One cause, one finding: where two rules speak of the same thing, which of them tells it.
 *
 * Invariant: a rule run when something is recorded is never told by one that is run only when asked, so
 * that both times the same findings stand.
 */

import { greater, NOTHING } from "../infusion/quantity.js";
import type { FindingCode, Found } from "./finding.js";

interface OneCause {
  readonly code: FindingCode;
  readonly toldBy: FindingCode;
  /** Whether these two, on one channel, have one cause. */
  readonly same: (found: Found, by: Found) => boolean;
}

export const ONE_CAUSE: readonly OneCause[] = [
  // The total stays unread because a reading of it is still in question.
  { code: "totals-at-risk", toldBy: "reading-disagrees", same: startTogether },
  { code: "totals-at-risk", toldBy: "unrecorded-clear", same: startTogether },
  // What nobody read at the end of the shift either is still there to be read, or was lost.
  { code: "no-reading-at-shift-end", toldBy: "totals-at-risk", same: (found, by) => by.start < found.end! },
  { code: "no-reading-at-shift-end", toldBy: "totals-lost", same: within },
  // A flow that nobody confirmed to have ended: why it ended says more.
  { code: "end-unconfirmed", toldBy: "bag-ran-dry", same: startTogether },
  { code: "end-unconfirmed", toldBy: "secondary-not-ended", same: startTogether },
  { code: "end-unconfirmed", toldBy: "entry-without-effect", same: startTogether },
  // A reading over that time says what flowed, and asks about it.
  { code: "end-unconfirmed", toldBy: "reading-disagrees", same: overTheSame },
  // What a device's segments have more or less of, its totals have too.
  { code: "reading-disagrees", toldBy: "reading-disagrees", same: segmentsOfTotals },
  { code: "bag-overdrawn", toldBy: "bag-ran-dry", same: (found, by) => by.entries.includes(found.subject) },
  // What the running total has more or less of, the bag has too.
  { code: "bag-unaccounted", toldBy: "reading-disagrees", same: mostlyTheSameVolume },
];

/** The findings whose cause no other one tells. */
export function oneEach(found: readonly Found[]): Found[] {
  return found.filter((one) => !found.some((other) => tells(other, one)));
}

function tells(by: Found, found: Found): boolean {
  return ONE_CAUSE.some(
    ({ code, toldBy, same }) =>
      code === found.code && toldBy === by.code && found.channel === by.channel && same(found, by),
  );
}

function startTogether(found: Found, by: Found): boolean {
  return found.start === by.start;
}

/** Whether the shift ended between the mark that was last read and its clear. */
function within(found: Found, by: Found): boolean {
  return by.start < found.end! && found.end! <= by.end!;
}

/** Whether what a question about a total, or a segment, asks of covers all the time of which nobody knows. */
function overTheSame(found: Found, by: Found): boolean {
  const ofTotal = found.totals?.some((total) => by.totals?.includes(total) ?? true) ?? false;
  return ofTotal && by.start <= found.start && found.end! <= by.end!;
}

/** A segment is of no total: whether a question about totals asks of the same volume. */
function segmentsOfTotals(found: Found, by: Found): boolean {
  return found.totals === undefined && by.totals !== undefined && mostlyTheSameVolume(found, by);
}

/** Of a level or segment, over a span that meets the reading's: at least half of what is apart, and that way. */
function mostlyTheSameVolume(found: Found, by: Found): boolean {
  if (found.says !== by.says) return false;
  if (found.end === undefined || found.start >= by.end! || by.start >= found.end) return false;
  return 2n * greater(by.volume ?? NOTHING, NOTHING) >= (found.volume ?? NOTHING);
}
