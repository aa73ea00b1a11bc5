/** An entry that fits nothing known: it is kept, changes nothing, and a later entry may give it sense. */

import type { Rule } from "../finding.js";
import { asSentence } from "../said.js";

export const entryWithoutEffect: Rule = {
  code: "entry-without-effect",
  runs: "recording",
  find: ({ collected }) =>
    collected.notes
      .filter(({ code }) => code === "entry-without-effect")
      .map(({ entry, channel, at, why }) => ({
        code: "entry-without-effect",
        severity: "attention",
        subject: entry,
        channel,
        start: at,
        entries: [entry],
        volume: null,
        sentence: asSentence(`it changes nothing: ${why}`),
        settledBy: [
          { text: "The entry before it that is missing, recorded late." },
          {
            text: "A void, if it was charted in error.",
            proposals: [{ do: "void", target: entry, reason: "charted in error" }],
          },
        ],
      })),
};
