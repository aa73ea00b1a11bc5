/** Lines on which something ran while nobody charted anything of them. */

import type { Entry } from "../../infusion/entry.js";
import { earliest, type Instant, latest, type Period } from "../../time/instant.js";
import type { Audited } from "../audited.js";
import type { Measure } from "../measure.js";

/** What ran in the span: where, from when to when. */
interface Ran extends Period {
  readonly channel: string;
  readonly bag: string | null;
  /** The line, or a channel that is on none. */
  readonly on: string;
}

function ranIn({ span, collected, settings }: Audited): Ran[] {
  const flows = collected.flows.filter(({ rate }) => rate >= settings.unattendedFrom);
  // A rate that nobody knows may be any.
  const unknown = collected.unknown.filter(({ reason }) => reason === "rate-unknown");
  return [...flows, ...unknown].flatMap(({ channel, line, bag, start, end }) => {
    const ran = { start: latest(span.start, start), end: earliest(span.end, end) };
    return ran.start < ran.end ? [{ ...ran, channel, bag, on: line ?? `channel ${channel}` }] : [];
  });
}

/** The longest anything ran on each line without an entry by a person on that line, in milliseconds. */
function longestUnattended(audited: Audited): number[] {
  const lines = new Map<string, Ran[]>();
  for (const one of ranIn(audited)) lines.set(one.on, [...(lines.get(one.on) ?? []), one]);
  const charted = audited.entries.filter(({ placed }) => placed.source === "person");
  return [...lines].map(([line, ran]) => {
    const channels = new Set(ran.map(({ channel }) => channel));
    const bags = new Set(ran.map(({ bag }) => bag));
    const seen = charted
      .map(({ placed }) => placed.entry)
      .filter((entry) => isOn(entry, line, channels, bags))
      .map(({ at }) => at);
    return Math.max(...stretches(ran).map((stretch) => longestBetween(stretch, seen)));
  });
}

function isOn(
  entry: Entry,
  line: string,
  channels: ReadonlySet<string>,
  bags: ReadonlySet<string | null>,
): boolean {
  if ("channel" in entry && channels.has(entry.channel)) return true;
  if ("line" in entry && entry.line === line) return true;
  return "bag" in entry && bags.has(entry.bag);
}

/** What ran on end, by whatever channel. */
function stretches(ran: readonly Ran[]): Period[] {
  const joined: { start: Instant; end: Instant }[] = [];
  for (const { start, end } of [...ran].sort((a, b) => a.start - b.start)) {
    const last = joined.at(-1);
    if (last !== undefined && start <= last.end) last.end = latest(last.end, end);
    else joined.push({ start, end });
  }
  return joined;
}

function longestBetween({ start, end }: Period, seen: readonly Instant[]): number {
  const inside = seen.filter((at) => start < at && at < end).sort((a, b) => a - b);
  return [...inside, end].reduce(
    ({ from, longest }, at) => ({ from: at, longest: Math.max(longest, at - from) }),
    { from: start, longest: 0 },
  ).longest;
}

const DEFINITION =
  "A line runs while a channel on it delivers, at the rate from which the unit has a flow attended (10 mL/h unless it has set otherwise) or at one nobody knows. An entry is any by a person of the line, a channel on it or a bag of one, by when it happened";

export const LINES: readonly Measure[] = [
  {
    key: "lines-running",
    label: "Lines running",
    form: "count",
    definition: `${DEFINITION}. On how many lines something ran in the shift.`,
    counting: "Of all encounters, those with at least one.",
    over: "sum",
    take: (audited) => longestUnattended(audited).length,
  },
  {
    key: "lines-without-entries",
    label: "Lines running without entries",
    form: "count",
    definition: `${DEFINITION}. On how many lines something ran in the shift on end for longer than the unit has a flow go unattended (4 hours unless it has set otherwise) without an entry.`,
    counting: "Of the encounters with lines running, those with at least one.",
    over: "sum",
    take: (audited) => {
      const longest = longestUnattended(audited);
      const { unattendedAfter } = audited.settings;
      return longest.length === 0 ? null : longest.filter((one) => one > unattendedAfter).length;
    },
  },
  {
    key: "longest-without-entry",
    label: "Longest a line ran without an entry",
    form: "duration",
    definition: `${DEFINITION}. The longest that something ran in the shift on a line without an entry.`,
    counting: "Of the encounters with lines running, all.",
    over: "most",
    take: (audited) => {
      const longest = longestUnattended(audited);
      return longest.length === 0 ? null : Math.max(...longest);
    },
  },
];
