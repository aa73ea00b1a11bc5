/** A shift has been over for a while and nobody signed its figures, or not all of them. */

import { type Instant, later } from "../../time/instant.js";
import type { Evidence, Found, Rule, ShiftEnd } from "../finding.js";

type Span = Omit<ShiftEnd, "state">;

export const shiftUnsigned: Rule = {
  code: "shift-unsigned",
  runs: "asking",
  find: (evidence) =>
    [...evidence.shiftEnds, ...(evidence.leftIn === null ? [] : [evidence.leftIn])]
      .filter(({ end }) => evidence.until >= later(end, evidence.settingsAt(end).unsignedAfter))
      .filter((shift) => signedTo(shift, evidence) < shift.end)
      .map((shift) => found(shift, evidence)),
};

/** Up to when a shift is signed from its start on. */
function signedTo({ start, end }: Span, { signed }: Evidence): Instant {
  const own = signed.filter((span) => span.start < end && start < span.end);
  return own.reduce((to, span) => (span.start <= to && span.end > to ? span.end : to), start);
}

function found(shift: Span, evidence: Evidence): Found {
  const { time } = evidence.words;
  const to = signedTo(shift, evidence);
  const span = `${time(to)} to ${time(shift.end)}`;
  return {
    code: "shift-unsigned",
    severity: "attention",
    subject: shift.shift,
    channel: null,
    shift: shift.shift,
    start: to,
    end: shift.end,
    entries: [],
    volume: null,
    sentence:
      to === shift.start
        ? `Nobody has signed the figures of the shift from ${span}.`
        : `The shift is signed up to ${time(to)}; nobody has signed its figures from ${span}.`,
    settledBy: [{ text: "The signature of a nurse who has looked at the figures." }],
  };
}
