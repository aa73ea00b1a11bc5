/**
 * A running total is lower than it was: somebody cleared it and nobody wrote that down, or it was misread.
 * When it may have been cleared is told by the likely reasons of the reading.
 */

import type { TotalJudged } from "../../infusion/evidence.js";
import { greater, minus, NOTHING, type Volume } from "../../infusion/quantity.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { isLower, questionsIn } from "../questions.js";
import { saidTotals } from "../said.js";

export const unrecordedClear: Rule = {
  code: "unrecorded-clear",
  runs: "recording",
  find: (evidence) =>
    questionsIn(evidence)
      .filter(({ first }) => isLower(first))
      .map(({ first }) => found(first, evidence)),
};

const SWITCHED_OFF = {
  text: "If it was switched off, which clears its totals: the clear with the cause power-off, at that time.",
};

function found(reading: TotalJudged, { words, state }: Evidence): Found {
  const { entry, channel, total, value, over, at, comparison } = reading;
  return {
    code: "unrecorded-clear",
    severity: "question",
    subject: entry,
    channel,
    start: over.from,
    end: at,
    entries: [entry, over.entry],
    volume: inDoubt(reading),
    sentence:
      `The ${saidTotals([total])} of ${channel} was ${words.volume(value)} at ${words.time(at)}, after ` +
      `${words.volume(over.base)} at ${words.time(over.from)} and ${words.volume(comparison.computed)} computed since: ` +
      "it was cleared and nobody wrote that down, or it was misread.",
    settledBy: [
      { text: "The clear, charted at its time, or an amendment of the reading if it was misread." },
      ...(state.channels.get(channel)?.clearsOn.includes("power-off") ? [SWITCHED_OFF] : []),
    ],
  };
}

/**
 * What only the device knew when it was cleared: of what was computed since the mark, all but what it shows.
 * Where it shows more than that no clear explains it, and all that it is off is in doubt. It is told by the
 * reading alone, so that it is the same when the reading is recorded as whenever it is asked for.
 */
function inDoubt({ value, comparison: { computed, increment } }: TotalJudged): Volume {
  return greater(minus(computed, value <= computed ? value : increment), NOTHING);
}
