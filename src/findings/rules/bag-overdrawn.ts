/** More came out of a bag than it was said to hold: of its overfill, or its contents were charted wrong. */

import type { Rule } from "../finding.js";
import { asSentence } from "../said.js";

export const bagOverdrawn: Rule = {
  code: "bag-overdrawn",
  runs: "asking",
  find: ({ collected }) =>
    collected.notes
      .filter(({ code }) => code === "bag-overdrawn")
      .map(({ entry, channel, at, why }) => ({
        code: "bag-overdrawn",
        severity: "note",
        subject: entry,
        channel,
        start: at,
        entries: [entry],
        volume: null,
        sentence: asSentence(why),
        settledBy: [{ text: "What was added to the bag, or the bag that was hung after it." }],
      })),
};
