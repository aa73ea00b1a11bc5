/**
 * A primary's bag was computed to be empty some time ago, nothing flows, and nobody was there since. A
 * secondary that emptied its bag has done what it was for: whether it ended is another question.
 */

import { NOTHING } from "../../infusion/quantity.js";
import type { Bag, Channel, ComputedEnd } from "../../infusion/state.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { ending, lastFlow, startOf } from "../trace.js";

export const bagRanDry: Rule = {
  code: "bag-ran-dry",
  runs: "asking",
  find: (evidence) =>
    [...evidence.state.channels.values()].flatMap((channel) => {
      const end = channel.unconfirmed;
      const bag = end?.bag ? evidence.state.bags.get(end.bag) : undefined;
      if (end?.source !== "primary" || bag === undefined || bag.holds > NOTHING) return [];
      if (evidence.until - end.at <= evidence.settingsAt(end.at).dryAfter) return [];
      return [found(channel, end, bag, evidence)];
    }),
};

/** It hangs on what last told the bag's contents: its hanging, or on a gravity set a level. */
function found({ channel }: Channel, { at, source }: ComputedEnd, bag: Bag, evidence: Evidence): Found {
  const { collected, words, until } = evidence;
  const flow = lastFlow(collected, channel, at);
  return {
    code: "bag-ran-dry",
    severity: "attention",
    subject: bag.mark.entry,
    channel,
    start: at,
    entries: flow === undefined ? [bag.mark.entry] : [bag.mark.entry, startOf(flow)],
    volume: null,
    sentence:
      `The bag ${bag.bag} on ${channel} was computed to be empty at ${words.time(at)}, ` +
      `${words.duration(until - at)} ago, and nothing recorded since says what happened.`,
    settledBy: [
      { text: "The next bag, hung when it was hung." },
      {
        text: `The end of the flow at ${words.time(at)}.`,
        proposals: [{ do: "record", entry: ending(source, channel, at) }],
      },
    ],
  };
}
