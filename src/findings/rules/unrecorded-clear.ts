/** A running total is lower than it was: somebody cleared it and nobody wrote that down, or it was misread. */

import type { TotalJudged } from "../../infusion/evidence.js";
import { deliveredBy } from "../../infusion/flow.js";
import { greater, minus, NOTHING, timeToDeliver } from "../../infusion/quantity.js";
import { earliest, type Instant, instant, later, MINUTE } from "../../time/instant.js";
import type { Evidence, Found, Rule, Settlement } from "../finding.js";
import { isLower, questionsIn } from "../questions.js";
import { saidTotals } from "../said.js";

export const unrecordedClear: Rule = {
  code: "unrecorded-clear",
  runs: "recording",
  find: (evidence) =>
    questionsIn(evidence.collected)
      .filter(({ first }) => isLower(first))
      .map(({ first }) => found(first, evidence)),
};

function found(reading: TotalJudged, evidence: Evidence): Found {
  const { entry, channel, total, value, over, at, comparison } = reading;
  const { words } = evidence;
  const clear = clearedAt(reading, evidence);
  const { increment, computed } = comparison;
  const told = clear === null ? minus(computed, increment) : minus(computed, value);
  return {
    code: "unrecorded-clear",
    severity: "question",
    subject: entry,
    channel,
    start: over.from,
    end: at,
    entries: [entry, over.entry],
    // What only the device knew when it was cleared; where no clear explains the reading, all that it is off.
    volume: greater(told, NOTHING),
    sentence:
      `The ${saidTotals([total])} of ${channel} was ${words.volume(value)} at ${words.time(at)}, after ` +
      `${words.volume(over.base)} at ${words.time(over.from)} and ${words.volume(computed)} computed since: ` +
      "it was cleared and nobody wrote that down, or it was misread.",
    settledBy: [
      ...(clear === null ? [] : [reset(reading, clear, evidence)]),
      { text: "An amendment of the reading, if it was misread." },
    ],
  };
}

/**
 * A clear that nobody wrote down left what it cleared uncaptured. It stands at the minute that leaves to
 * the device what it shows; one charted at the very instant of a zero comes before it by itself.
 */
function reset({ channel, total, checkOnly }: TotalJudged, at: Instant, { words }: Evidence): Settlement {
  const totals = checkOnly ? (["primary", "secondary"] as const) : [total];
  return {
    text: `The clear, at about ${words.time(at)}.`,
    proposals: [
      { do: "record", entry: { kind: "totals-reset", at, channel, totals, leaveUncaptured: true } },
    ],
  };
}

/** The minute since which what the reading shows was computed; null where less was since its mark. */
function clearedAt({ channel, total, checkOnly, value, over, at }: TotalJudged, { collected }: Evidence) {
  if (value <= NOTHING) return at;
  let rest = value;
  for (const flow of collected.flows.toReversed()) {
    const counted = flow.channel === channel && (checkOnly ? flow.total !== null : flow.total === total);
    if (!counted || flow.end <= over.from || flow.start >= at) continue;
    const end = earliest(flow.end, at);
    const volume = minus(deliveredBy(flow, end), deliveredBy(flow, over.from));
    if (volume >= rest) return minuteOf(later(end, -timeToDeliver(flow.rate, rest)));
    rest = minus(rest, volume);
  }
  return null;
}

function minuteOf(at: Instant): Instant {
  return instant(Math.floor(at / MINUTE) * MINUTE);
}
