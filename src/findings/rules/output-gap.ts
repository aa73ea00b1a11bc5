/** Nobody has charted any output for a long time, though the patient is here. The next one settles it. */

import type { Entry } from "../../infusion/entry.js";
import type { Evidence, Found, Reported, Rule } from "../finding.js";

/** What shows that somebody looked at the output, and where the time begins, or ends, in which somebody could. */
const MARKS: readonly Entry["kind"][] = [
  "output-measured",
  "chamber-read",
  "chamber-emptied",
  "admitted",
  "away-started",
  "away-ended",
  "discharged",
];

export const outputGap: Rule = {
  code: "output-gap",
  runs: "asking",
  find: (evidence) => {
    const last = evidence.entries.findLast(({ placed }) => MARKS.includes(placed.entry.kind));
    if (last === undefined || isAbsent(last)) return [];
    const { at } = last.placed.entry;
    return evidence.until - at > evidence.settingsAt(at).outputGapAfter ? [found(last, evidence)] : [];
  },
};

/** After this the patient is not here. */
function isAbsent({ placed: { entry } }: Reported): boolean {
  return entry.kind === "away-started" || entry.kind === "discharged";
}

/** It hangs on what was charted last before the gap. */
function found({ placed: { id, entry } }: Reported, { words, until }: Evidence): Found {
  return {
    code: "output-gap",
    severity: "attention",
    subject: id,
    channel: null,
    start: entry.at,
    entries: [id],
    volume: null,
    sentence: `No output has been charted since ${words.time(entry.at)}, for ${words.duration(until - entry.at)}.`,
    settledBy: [{ text: "What came out meanwhile, recorded late; or that something did, as an occurrence." }],
  };
}
