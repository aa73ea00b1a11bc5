/** A primary reached its volume long ago and runs on at its keep-open rate: somebody was to see to it. */

import type { Channel, Programme } from "../../infusion/state.js";
import type { Instant } from "../../time/instant.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { startOf } from "../trace.js";

export const keepOpenRunning: Rule = {
  code: "keep-open-running",
  runs: "asking",
  find: (evidence) =>
    [...evidence.state.channels.values()].flatMap((channel) => {
      const { primary, connected, hold } = channel;
      if (!connected || hold !== "none" || primary?.keepingOpen !== true) return [];
      const since = reachedAt(channel, primary, evidence);
      const lasts = evidence.until - since;
      return lasts > evidence.settingsAt(since).keepOpenAfter
        ? [found(channel, primary, since, evidence)]
        : [];
    }),
};

/** When the volume to infuse was reached; of what was reached before the evidence, its beginning. */
function reachedAt({ channel }: Channel, { startedBy }: Programme, { collected, from }: Evidence): Instant {
  const reached = collected.finished.findLast(
    (finished) => finished.channel === channel && startOf(finished) === startedBy,
  );
  return reached?.at ?? from;
}

function found({ channel }: Channel, primary: Programme, since: Instant, evidence: Evidence): Found {
  const { words, until } = evidence;
  return {
    code: "keep-open-running",
    severity: "attention",
    subject: primary.startedBy,
    channel,
    start: since,
    entries: [primary.startedBy],
    volume: null,
    sentence:
      `${channel} gave its volume at ${words.time(since)} and has run at its keep-open rate for ` +
      `${words.duration(until - since)}.`,
    settledBy: [{ text: "A new bag and start, a new volume to infuse, or when it was stopped." }],
  };
}
