/** A channel was paused long ago, and nobody wrote down how it went on. */

import type { Channel } from "../../infusion/state.js";
import type { Instant } from "../../time/instant.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { withoutEffect } from "../trace.js";

export const pauseNotEnded: Rule = {
  code: "pause-not-ended",
  runs: "asking",
  find: (evidence) =>
    [...evidence.state.channels.values()]
      .filter(({ connected, hold }) => connected && hold === "paused")
      .flatMap((channel) => {
        const { entry, at } = pauseOf(channel, evidence);
        const lasts = evidence.until - at;
        return lasts > evidence.settingsAt(at).pausedAfter ? [found(channel, entry, at, evidence)] : [];
      }),
};

/** The pause that holds; of one from before the evidence only what was programmed is known. */
function pauseOf(channel: Channel, { entries, collected, from }: Evidence): { entry: string; at: Instant } {
  const nothing = withoutEffect(collected);
  const pause = entries.findLast(
    ({ placed: { id, entry } }) =>
      entry.kind === "flow-paused" && entry.channel === channel.channel && !nothing.has(id),
  );
  if (pause !== undefined) return { entry: pause.placed.id, at: pause.placed.entry.at };
  // A pause holds something, or there is nothing to pause.
  const held = channel.bolus ?? channel.secondary ?? channel.primary;
  return { entry: held?.startedBy ?? channel.channel, at: from };
}

function found({ channel }: Channel, entry: string, at: Instant, { until, words }: Evidence): Found {
  return {
    code: "pause-not-ended",
    severity: "attention",
    subject: entry,
    channel,
    start: at,
    entries: [entry],
    volume: null,
    sentence:
      `${channel} has been paused since ${words.time(at)}, for ${words.duration(until - at)}: ` +
      "nothing is counted since.",
    settledBy: [{ text: "When it was resumed or stopped." }],
  };
}
