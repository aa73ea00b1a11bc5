/**
 * Entries recorded long after they happened: one finding per person and shift they are charted in. It hangs on
 * those two alone, so that it is the same one in whatever order they were recorded, and whatever comes later still.
 */

import type { Entry } from "../../infusion/entry.js";
import { earliest, latest } from "../../time/instant.js";
import type { Evidence, Found, Reported, Rule } from "../finding.js";

/** A stay is entered, moved and ended in its own time. */
const OF_THE_STAY: readonly Entry["kind"][] = ["admitted", "moved", "discharged"];

export const lateEntry: Rule = {
  code: "late-entry",
  runs: "asking",
  find: (evidence) =>
    [...byPersonAndShift(evidence)].map(([subject, late]) => found(subject, late, evidence)),
};

function byPersonAndShift(evidence: Evidence): Map<string, Reported[]> {
  const groups = new Map<string, Reported[]>();
  for (const reported of evidence.entries) {
    if (!isLate(reported, evidence.settingsAt)) continue;
    const key = `${evidence.shiftAt(reported.placed.entry.at)}/${reported.by}`;
    groups.set(key, [...(groups.get(key) ?? []), reported]);
  }
  return groups;
}

/** Whether a person recorded it later than the unit allows. */
export function isLate(reported: Reported, settingsAt: Evidence["settingsAt"]): boolean {
  const { placed } = reported;
  if (placed.source !== "person" || OF_THE_STAY.includes(placed.entry.kind)) return false;
  return delayOf(reported) > settingsAt(placed.entry.at).lateAfter;
}

/** How long after the fact it was recorded, in milliseconds. */
export function delayOf({ placed, recordedAt }: Reported): number {
  return recordedAt - placed.entry.at;
}

/** The entries are told in the order in which they happened. */
function found(subject: string, late: readonly Reported[], { words, settingsAt, shiftAt }: Evidence): Found {
  const first = late[0]!;
  const times = late.map(({ placed }) => placed.entry.at);
  const [count, longest] = [late.length, Math.max(...late.map(delayOf))];
  const after = words.duration(settingsAt(first.placed.entry.at).lateAfter);
  return {
    code: "late-entry",
    severity: "note",
    subject,
    channel: null,
    shift: shiftAt(first.placed.entry.at),
    start: earliest(...times),
    end: latest(...times),
    entries: late.map(({ placed }) => placed.id),
    volume: null,
    sentence:
      `${count} ${count > 1 ? "entries" : "entry"} of one person ${count > 1 ? "were" : "was"} recorded more ` +
      `than ${after} after the fact, up to ${words.duration(longest)}.`,
    settledBy: [],
  };
}
