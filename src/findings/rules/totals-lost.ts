/**
 * A running total was cleared that nobody had written down: its volume rests on the computation alone, and
 * of a counter whose rate nobody knows on nothing.
 */

import type { TotalCleared } from "../../infusion/evidence.js";
import { NOTHING, plus } from "../../infusion/quantity.js";
import { untoldOf } from "../../infusion/segments-in-totals.js";
import { earliest } from "../../time/instant.js";
import { type Clearing, clearsIn } from "../cleared.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { reportedAs } from "../lookup.js";
import { isMuch } from "../much.js";
import { saidTotals } from "../said.js";

export const totalsLost: Rule = {
  code: "totals-lost",
  runs: "recording",
  find: (evidence) => clearsUnread(evidence).map((cleared) => found(cleared, evidence)),
};

/**
 * What each clear lost, whether of one total or of both, and whether a reason was given or not. What the device had
 * told in segments is not lost.
 */
export function clearsUnread({
  settingsAt,
  segments,
  ...clearing
}: Clearing & Pick<Evidence, "settingsAt" | "segments">): TotalCleared[][] {
  const { collected } = clearing;
  const clears = new Map<string, TotalCleared[]>();
  const captured = new Set(
    collected.readings.flatMap(({ before, total }) => (before === null ? [] : [`${before.entry} ${total}`])),
  );
  for (const read of clearsIn(clearing)) {
    if (captured.has(`${read.entry} ${read.total}`)) continue;
    const since = untoldOf(read, segments);
    if (since === null) continue;
    const clear = { ...read, written: { ...read.written, since } };
    const lost = isMuch(clear.written, clear.at, settingsAt(clear.at));
    if (lost) clears.set(clear.entry, [...(clears.get(clear.entry) ?? []), clear]);
  }
  return [...clears.values()];
}

/** Whether a reason was given for a clear, be it in the second report of it, by a person of what a device told. */
function isReasonGiven({ entry, leftUncaptured }: TotalCleared, evidence: Evidence): boolean {
  if (leftUncaptured) return true;
  return evidence.collected.notes.some(({ twin, entry: second }) => {
    const report = twin === entry ? reportedAs(evidence, second)?.placed.entry : undefined;
    return report !== undefined && "leaveUncaptured" in report && report.leaveUncaptured === true;
  });
}

/** Whether a report of the clear says so, be it the second one, by a person of what a device told. */
function wasSwitchedOff(entry: string, evidence: Evidence): boolean {
  const reports = [
    entry,
    ...evidence.collected.notes.flatMap((note) => (note.twin === entry ? note.entry : [])),
  ];
  return reports.some((id) => {
    const cleared = reportedAs(evidence, id)?.placed.entry;
    return cleared?.kind === "totals-reset" && cleared.cause === "power-off";
  });
}

function found(cleared: readonly TotalCleared[], evidence: Evidence): Found {
  const { words } = evidence;
  const { entry, channel, at, latest } = cleared[0]!;
  const reasonGiven = cleared.every((clear) => isReasonGiven(clear, evidence));
  const volume = cleared.reduce((sum, { written }) => plus(sum, written.since), NOTHING);
  const since = earliest(...cleared.map(({ written }) => written.from));
  const totals = cleared.map(({ total }) => total);
  const unknown = cleared.some(({ written }) => written.atLeast);
  const charted = reasonGiven ? ", as was charted" : "";
  const when = latest > at ? `between ${words.time(at)} and ${words.time(latest)}` : `at ${words.time(at)}`;
  const several = totals.length > 1;
  const lost = unknown
    ? `unread since ${words.time(since)}${charted}: what ${several ? "they" : "it"} counted is not known.`
    : `with ${words.volume(volume)} not written down since ${words.time(since)}${charted}: that volume is computed only.`;
  return {
    code: "totals-lost",
    severity: reasonGiven ? "note" : "attention",
    subject: entry,
    channel,
    start: since,
    end: latest,
    entries: [...new Set([entry, ...cleared.map(({ written }) => written.entry)])],
    volume: unknown ? null : volume,
    sentence:
      `The ${saidTotals(totals)} of ${channel} ${several ? "were" : "was"} cleared ${when} ` +
      (wasSwitchedOff(entry, evidence) ? "when the device was switched off, " : "") +
      lost,
    settledBy: [
      {
        text: `A late reading of the ${saidTotals(totals)} from before the clear.`,
        proposals: totals.map((total) => ({
          do: "read",
          entry: { kind: "total-read", at, channel, total, position: "before" },
        })),
      },
    ],
  };
}
