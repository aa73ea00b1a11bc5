/** Figures that somebody signed are others now: something was recorded or corrected since. */

import { NOTHING } from "../../infusion/quantity.js";
import type { Evidence, Found, Rule, SignedSpan } from "../finding.js";

export const signedShiftChanged: Rule = {
  code: "signed-shift-changed",
  runs: "asking",
  find: (evidence) => evidence.signed.flatMap((span) => found(span, evidence)),
};

function found({ moved, ...span }: SignedSpan, { words }: Evidence): Found[] {
  if (moved === null) return [];
  const { time, volume } = words;
  const how = moved.figures === 1 ? "1 figure is another" : `${moved.figures} figures are others`;
  const most = moved.most > NOTHING ? `, by ${volume(moved.most)} at most` : "";
  return [
    {
      code: "signed-shift-changed",
      severity: "attention",
      subject: span.entry,
      channel: null,
      shift: span.shift,
      start: span.start,
      end: span.end,
      entries: [span.entry],
      volume: moved.most,
      sentence: `${span.by} signed ${time(span.start)} to ${time(span.end)} at ${time(span.signedAt)}; since then ${how}${most}.`,
      settledBy: [{ text: "A new signature, after looking at what changed." }],
    },
  ];
}
