/** An entry was recorded before the time at which it says it happened: a clock is wrong, or its date. */

import { later, MINUTE } from "../../time/instant.js";
import type { Rule } from "../finding.js";

/** As far ahead as a person may chart, since clocks of people and of the ledger differ. */
const AHEAD = 5 * MINUTE;

export const timeImplausible: Rule = {
  code: "time-implausible",
  runs: "recording",
  find: ({ entries, words }) =>
    entries
      .filter(({ placed, recordedAt }) => placed.entry.at > later(recordedAt, AHEAD))
      .map(({ placed: { id, entry }, recordedAt }) => ({
        code: "time-implausible",
        severity: "attention",
        subject: id,
        channel: "channel" in entry ? entry.channel : null,
        start: entry.at,
        entries: [id],
        volume: null,
        sentence:
          `This says it happened at ${words.time(entry.at)}, and was recorded ` +
          `${words.duration(entry.at - recordedAt)} before that, at ${words.time(recordedAt)}.`,
        settledBy: [{ text: "An amendment of its time." }],
      })),
};
