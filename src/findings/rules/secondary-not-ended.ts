/**
 * A secondary that should be over by now: it has no limit and runs on for hours, or it is done, the
 * channel waits for a person, and nobody came.
 */

import { type Channel, delivering } from "../../infusion/state.js";
import { HOUR, type Instant, MINUTE } from "../../time/instant.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { reportedAs } from "../lookup.js";
import { lastFlow, startOf } from "../trace.js";

/** Intermittent doses run for half an hour to four hours (common practice). */
const LONGEST = 4 * HOUR;
/** Who programmed it to wait is to be called by the device at once. */
const WAITS_FOR = 15 * MINUTE;

export const secondaryNotEnded: Rule = {
  code: "secondary-not-ended",
  runs: "asking",
  find: (evidence) =>
    [...evidence.state.channels.values()].flatMap((channel) =>
      channel.hold === "waiting" ? waits(channel, evidence) : runsOn(channel, evidence),
    ),
};

function runsOn(channel: Channel, evidence: Evidence): Found[] {
  const { secondary } = channel;
  if (delivering(channel) !== "secondary" || secondary === null || secondary.left !== null) return [];
  const { until, from, words } = evidence;
  const start = reportedAs(evidence, secondary.startedBy)?.placed.entry.at ?? from;
  if (until - start <= LONGEST) return [];
  const sentence =
    `The secondary on ${channel.channel} has run since ${words.time(start)} without a volume to infuse, ` +
    `for ${words.duration(until - start)}.`;
  return [found(channel, secondary.startedBy, start, sentence)];
}

/** A bolus may ask for a person too; whatever flowed last is what the channel waits after. */
function waits(channel: Channel, { collected, until, words }: Evidence): Found[] {
  const done = lastFlow(collected, channel.channel, until);
  if (done === undefined || until - done.end <= WAITS_FOR) return [];
  const sentence =
    `The ${done.role} on ${channel.channel} was done at ${words.time(done.end)}, and the channel has waited ` +
    `for ${words.duration(until - done.end)} to be resumed.`;
  return [found(channel, startOf(done), done.end, sentence)];
}

function found({ channel }: Channel, entry: string, start: Instant, sentence: string): Found {
  return {
    code: "secondary-not-ended",
    severity: "attention",
    subject: entry,
    channel,
    start,
    entries: [entry],
    volume: null,
    sentence,
    settledBy: [{ text: "When the secondary was ended, or the primary resumed or stopped." }],
  };
}
