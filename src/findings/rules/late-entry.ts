/** Entries recorded long after they happened: one finding per person and shift they are charted in. */

import type { Entry } from "../../infusion/entry.js";
import { earliest, latest } from "../../time/instant.js";
import type { Evidence, Found, Reported, Rule } from "../finding.js";

/** A stay is entered, moved and ended in its own time. */
const OF_THE_STAY: readonly Entry["kind"][] = ["admitted", "moved", "discharged"];

export const lateEntry: Rule = {
  code: "late-entry",
  runs: "asking",
  find: (evidence) => [...byPersonAndShift(evidence).values()].map((late) => found(late, evidence)),
};

function byPersonAndShift(evidence: Evidence): Map<string, Reported[]> {
  const groups = new Map<string, Reported[]>();
  for (const reported of evidence.entries) {
    if (!isLate(reported, evidence.settingsAt)) continue;
    const key = `${shiftOf(reported, evidence) ?? "running"} ${reported.by}`;
    groups.set(key, [...(groups.get(key) ?? []), reported]);
  }
  return groups;
}

/** The shift that has ended in which it happened; none is told of the one that runs. */
function shiftOf({ placed: { entry } }: Reported, { shiftEnds }: Evidence): string | undefined {
  return shiftEnds.find(({ start, end }) => start <= entry.at && entry.at < end)?.shift;
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

/** It hangs on the one recorded first, which no later one can come before. */
function found(late: readonly Reported[], evidence: Evidence): Found {
  const { words, settingsAt } = evidence;
  const recorded = late.toSorted((a, b) => a.placed.sequence - b.placed.sequence);
  const first = recorded[0]!;
  const shift = shiftOf(first, evidence);
  const times = late.map(({ placed }) => placed.entry.at);
  const [count, longest] = [late.length, Math.max(...late.map(delayOf))];
  const after = words.duration(settingsAt(first.placed.entry.at).lateAfter);
  return {
    code: "late-entry",
    severity: "note",
    subject: first.placed.id,
    channel: null,
    ...(shift !== undefined && { shift }),
    start: earliest(...times),
    end: latest(...times),
    entries: recorded.map(({ placed }) => placed.id),
    volume: null,
    sentence:
      `${count} ${count > 1 ? "entries" : "entry"} of one person ${count > 1 ? "were" : "was"} recorded more ` +
      `than ${after} after the fact, up to ${words.duration(longest)}.`,
    settledBy: [],
  };
}
