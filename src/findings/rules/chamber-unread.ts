/** A chamber was emptied and nobody looked what it held: that output is unknown, never nothing. */

import { READ_JUST_BEFORE } from "../../infusion/chamber-steps.js";
import type { Evidence, Found, Rule } from "../finding.js";

export const chamberUnread: Rule = {
  code: "totals-lost",
  runs: "recording",
  find: ({ collected, words }: Evidence) =>
    collected.drained
      .filter(({ volume, lower, at, from }) => volume === null && !lower && at - from > READ_JUST_BEFORE)
      .map(
        ({ chamber, entry, over, from, at, answered }): Found => ({
          code: "totals-lost",
          severity: answered ? "note" : "attention",
          subject: entry,
          channel: null,
          start: from,
          end: at,
          entries: [entry, over],
          volume: null,
          sentence:
            `The chamber ${chamber} was emptied at ${words.time(at)} and nobody read it since ` +
            `${words.time(from)}${answered ? ", as was charted" : ""}: what it collected is unknown.`,
          settledBy: [
            { text: `A late reading of ${chamber} from before it was emptied, or its level then.` },
          ],
        }),
      ),
};
