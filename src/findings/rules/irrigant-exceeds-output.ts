/** A site was emptied of less than was put in to irrigate it: something is missing, miscounted, or still there. */

import { NOTHING } from "../../infusion/quantity.js";
import type { Evidence, Found, Rule } from "../finding.js";

export const irrigantExceedsOutput: Rule = {
  code: "irrigant-exceeds-output",
  runs: "recording",
  find: ({ collected, words }: Evidence) =>
    collected.outputs
      .filter(({ exceeds }) => exceeds > NOTHING)
      .map(
        ({ entry, at, site, exceeds }): Found => ({
          code: "irrigant-exceeds-output",
          severity: "attention",
          subject: entry,
          channel: null,
          start: at,
          entries: [entry],
          volume: exceeds,
          sentence:
            `By ${words.time(at)} ${words.volume(exceeds)} more irrigant had gone into ${site} than came out ` +
            "of it since it was last emptied: the output is negative by that much.",
          settledBy: [
            { text: "What else came out by this site, recorded late." },
            { text: "An amendment of the irrigant or of the output, if one was misread." },
          ],
        }),
      ),
};
