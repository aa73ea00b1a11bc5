/**
 * A running total is about to be lost: what it counted is known to the device only, and nothing goes on
 * that would keep the device there. While a channel simply runs nobody is bothered.
 */

import type { Counter } from "../../infusion/counter.js";
import type { TotalName } from "../../infusion/entry.js";
import { NOTHING, plus, volumeOf } from "../../infusion/quantity.js";
import { type ChannelNow, runningTotals } from "../../infusion/running.js";
import { HOUR, MINUTE } from "../../time/instant.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { isBrief } from "../much.js";
import { saidTotals } from "../said.js";
import { lastFlow } from "../trace.js";

/** Nothing flowed for so long: the next thing to happen to the channel is likely a clear. */
const IDLE = HOUR;
/** The infusion ends so soon or ended by itself, and the total was not read for as long as `UNREAD`. */
const ENDS_WITHIN = 15 * MINUTE;
const UNREAD = HOUR;

type Unread = readonly [TotalName, Counter];

export const totalsAtRisk: Rule = {
  code: "totals-at-risk",
  runs: "asking",
  find: (evidence) =>
    runningTotals(evidence.state).flatMap((now) => {
      const danger = dangerOf(now, evidence);
      if (danger === null) return [];
      const unread = unreadOf(now, evidence).filter(
        ([, { from }]) => evidence.until - from >= danger.unreadFor,
      );
      return byMark(unread).map((together) => found(now, together, danger.why, evidence));
    }),
};

/** Why the totals of a channel may soon be gone, and how long they must have been unread to matter. */
function dangerOf(now: ChannelNow, { collected, from, until, words }: Evidence) {
  const { channel, delivering, flow } = now;
  if (!channel.connected) return { why: "the channel is disconnected", unreadFor: 0 };
  // Of a metered channel nothing charted ever flows: it is read at the end of the shift.
  if (channel.type === "metered") return null;
  if (delivering === "nothing") {
    if (channel.hold !== "none") return null;
    const { unconfirmed } = channel;
    if (unconfirmed !== null) {
      return { why: `the infusion ended at ${words.time(unconfirmed.at)}`, unreadFor: UNREAD };
    }
    const idle = until - (lastFlow(collected, channel.channel, until)?.end ?? from);
    return idle > IDLE ? { why: `nothing has flowed for ${words.duration(idle)}`, unreadFor: 0 } : null;
  }
  const goesOn = delivering !== "primary" || channel.primary!.keepOpenRate !== null;
  const ends = flow?.endsAt ?? null;
  if (goesOn || ends === null || ends - until > ENDS_WITHIN) return null;
  return { why: `the infusion ends at ${words.time(ends)}`, unreadFor: UNREAD };
}

function unreadOf({ channel }: ChannelNow, { settingsAt, until }: Evidence): Unread[] {
  const above = volumeOf(settingsAt(until).askAbove);
  return (Object.entries(channel.counters) as [TotalName, Counter][]).filter(
    ([, counter]) => (counter.since > above || counter.atLeast) && !isBrief(counter),
  );
}

/** Totals unread since one and the same entry are one finding, which hangs on it. */
function byMark(unread: readonly Unread[]): Unread[][] {
  const groups = new Map<string, Unread[]>();
  for (const one of unread) groups.set(one[1].entry, [...(groups.get(one[1].entry) ?? []), one]);
  return [...groups.values()];
}

function found({ channel }: ChannelNow, unread: readonly Unread[], why: string, evidence: Evidence): Found {
  const { until, words } = evidence;
  const { entry, from } = unread[0]![1];
  const volume = unread.reduce((sum, [, { since }]) => plus(sum, since), NOTHING);
  const totals = unread.map(([total]) => total);
  return {
    code: "totals-at-risk",
    severity: "attention",
    subject: entry,
    channel: channel.channel,
    start: from,
    entries: [entry],
    volume,
    sentence:
      `${words.volume(volume)} of the ${saidTotals(totals)} of ${channel.channel} is not written down since ` +
      `${words.time(from)}, and ${why}.`,
    settledBy: [
      {
        text: `A reading of the ${saidTotals(totals)}.`,
        proposals: totals.map((total) => ({
          do: "read",
          entry: { kind: "total-read", at: until, channel: channel.channel, total },
        })),
      },
    ],
  };
}
