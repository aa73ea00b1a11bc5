/** A line was removed, a channel disconnected or the stay ended while something was still running. */

import type { Rule } from "../finding.js";
import { asSentence } from "../said.js";

export const lineRemovedRunning: Rule = {
  code: "line-removed-running",
  runs: "recording",
  find: ({ collected, words }) =>
    collected.notes
      .filter(({ code }) => code === "line-removed-running")
      .map(({ entry, channel, at, why }) => ({
        code: "line-removed-running",
        severity: "attention",
        subject: entry,
        channel,
        start: at,
        entries: [entry],
        volume: null,
        sentence: asSentence(`at ${words.time(at)} ${why}${channel === null ? "" : ` (${channel})`}`),
        settledBy: [{ text: "When the flow was stopped, if that was before." }],
      })),
};
