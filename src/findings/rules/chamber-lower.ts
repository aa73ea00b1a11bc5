/** A chamber holds less than it did: it was emptied and nobody charted it, or it was misread. */

import type { Evidence, Found, Rule } from "../finding.js";

export const chamberLower: Rule = {
  code: "unrecorded-clear",
  runs: "recording",
  find: ({ collected, words }: Evidence) =>
    collected.drained
      .filter(({ lower, shows }) => lower && shows !== null)
      .map(
        ({ chamber, entry, over, from, at, level, shows }): Found => ({
          code: "unrecorded-clear",
          severity: "question",
          subject: entry,
          channel: null,
          start: from,
          end: at,
          entries: [entry, over],
          volume: null,
          sentence:
            `The chamber ${chamber} held ${words.volume(shows!)} at ${words.time(at)}, after ` +
            `${words.volume(level)} at ${words.time(from)}: it was emptied and nobody charted that, or it was misread.`,
          settledBy: [
            { text: `The emptying of ${chamber}, with what it held then.` },
            { text: "An amendment of the reading, if it was misread." },
          ],
        }),
      ),
};
