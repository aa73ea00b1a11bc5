/** Something runs, and nobody has recorded anything about the patient for hours. One finding per stay. */

import { effectiveRate } from "../../infusion/advance.js";
import { type Channel, delivering } from "../../infusion/state.js";
import { type Instant, latest } from "../../time/instant.js";
import type { Evidence, Found, Reported, Rule } from "../finding.js";

export const flowUnattended: Rule = {
  code: "flow-unattended",
  runs: "asking",
  find: (evidence) => {
    const { state, settingsAt, until } = evidence;
    const { unattendedAfter, unattendedFrom } = settingsAt(until);
    // While the patient is away others see to the flows, and chart where they are.
    if (state.awayUnknown) return [];
    const running = [...state.channels.values()].filter((channel) => runsAtLeast(channel, unattendedFrom));
    const last = lastSeen(evidence);
    if (running.length === 0 || last === undefined || until - last.seen <= unattendedAfter) return [];
    return [found(running, last, evidence)];
  },
};

/** A rate that nobody knows may be any. */
function runsAtLeast(channel: Channel, least: number): boolean {
  const source = delivering(channel);
  if (source === null) return false;
  const programme = channel[source]!;
  return programme.rate === "unknown" || effectiveRate(programme, programme.rate) >= least;
}

interface Seen {
  readonly entry: string;
  readonly seen: Instant;
}

/** Who charts late was there when it happened and when it was charted; a device is nobody. */
function lastSeen({ entries, until }: Evidence): Seen | undefined {
  const seen = ({ placed, recordedAt }: Reported): Seen => ({
    entry: placed.id,
    seen: recordedAt <= until ? latest(placed.entry.at, recordedAt) : placed.entry.at,
  });
  return entries
    .filter(({ placed }) => placed.source === "person" && placed.entry.at <= until)
    .map(seen)
    .reduce<Seen | undefined>(
      (last, one) => (last !== undefined && last.seen > one.seen ? last : one),
      undefined,
    );
}

function found(running: readonly Channel[], { entry, seen }: Seen, { until, words }: Evidence): Found {
  const channels = running.map(({ channel }) => channel).join(", ");
  return {
    code: "flow-unattended",
    severity: "attention",
    subject: entry,
    channel: null,
    start: seen,
    entries: [entry],
    volume: null,
    sentence:
      `Nobody has recorded anything since ${words.time(seen)}, for ${words.duration(until - seen)}, ` +
      `while ${channels} ${running.length > 1 ? "run" : "runs"}.`,
    settledBy: [{ text: "Any entry from these hours, such as a reading of the running totals." }],
  };
}
