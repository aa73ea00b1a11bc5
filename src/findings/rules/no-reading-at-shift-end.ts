/** A shift ended and nobody wrote down what a channel's totals had counted in it. */

import type { Counter } from "../../infusion/counter.js";
import { firstFrom } from "../../infusion/cuts.js";
import type { TotalName } from "../../infusion/entry.js";
import { NOTHING, plus, type Volume, volumeOf } from "../../infusion/quantity.js";
import type { Channel } from "../../infusion/state.js";
import { type Instant, later, latest, MINUTE, type Period } from "../../time/instant.js";
import type { Evidence, Found, Rule, ShiftEnd } from "../finding.js";
import { readingsOn } from "../lookup.js";
import { saidTotals } from "../said.js";
import { countedWithin } from "../trace.js";

/** Totals are read while two shifts hand over: half an hour before the end or after it (common practice). */
const HANDOVER = 30 * MINUTE;

interface Unread {
  readonly total: TotalName;
  readonly counter: Counter;
  /** What it counted in the shift and nobody wrote down. */
  readonly volume: Volume;
}

export const noReadingAtShiftEnd: Rule = {
  code: "no-reading-at-shift-end",
  runs: "asking",
  find: (evidence) =>
    evidence.shiftEnds
      .filter(({ end }) => evidence.until >= later(end, HANDOVER))
      .flatMap((shift) =>
        [...shift.state.channels.values()].flatMap((channel) => {
          const unread = unreadAt(shift, channel, evidence);
          return unread.length === 0 ? [] : [found(shift, channel.channel, unread, evidence)];
        }),
      ),
};

function unreadAt(shift: ShiftEnd, { channel, counters }: Channel, evidence: Evidence): Unread[] {
  const above = volumeOf(evidence.settingsAt(shift.end).askAbove);
  return (Object.entries(counters) as [TotalName, Counter][])
    .map(([total, counter]) => {
      const start = latest(shift.start, counter.from);
      const volume = countedWithin(evidence.collected, channel, total, { start, end: shift.end });
      return { total, counter, volume };
    })
    .filter(
      ({ total, counter, volume }) =>
        (volume > above || ranUnknown(shift, channel, counter, evidence)) &&
        !readFor(shift.end, channel, total, above, evidence),
    );
}

/** Whether something ran in the shift at a rate nobody knows, and is not read yet. */
function ranUnknown({ start, end }: ShiftEnd, channel: string, counter: Counter, { collected }: Evidence) {
  const meets = (span: Period) => span.start < end && span.end > start;
  return counter.atLeast && collected.unknown.some((span) => span.channel === channel && meets(span));
}

/** Whether a reading tells what the total was at a shift's end: near it, or later with no more flow between. */
function readFor(end: Instant, channel: string, total: TotalName, above: Volume, { collected }: Evidence) {
  const readings = readingsOn(collected, channel);
  const since = firstFrom(readings, later(end, -HANDOVER), ({ at }) => at);
  // What was counted since only grows, so the first reading of the total decides.
  const next = readings.slice(since).find((reading) => reading.total === total || reading.checkOnly);
  if (next === undefined) return false;
  if (next.at <= later(end, HANDOVER)) return true;
  return countedWithin(collected, channel, total, { start: end, end: next.at }) <= above;
}

function found(shift: ShiftEnd, channel: string, unread: readonly Unread[], { words }: Evidence): Found {
  const volume = unread.reduce((sum, one) => plus(sum, one.volume), NOTHING);
  const totals = unread.map(({ total }) => total);
  return {
    code: "no-reading-at-shift-end",
    severity: "attention",
    subject: shift.shift,
    channel,
    shift: shift.shift,
    start: shift.start,
    end: shift.end,
    entries: [...new Set(unread.map(({ counter }) => counter.entry))],
    volume,
    sentence:
      `Nobody read the ${saidTotals(totals)} of ${channel} at the end of the shift, ${words.time(shift.end)}: ` +
      `${unread.some(({ counter }) => counter.atLeast) ? "what it counted is unknown" : `${words.volume(volume)} of the shift is computed only`}.`,
    settledBy: [
      {
        text: `A late reading of the ${saidTotals(totals)} at ${words.time(shift.end)}.`,
        proposals: totals.map((total) => ({
          do: "read",
          entry: { kind: "total-read", at: shift.end, channel, total },
        })),
      },
    ],
  };
}
