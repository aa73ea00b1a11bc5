/** A running total was read that is not what was computed, and nobody has said which is right. */

import { greater, minus } from "../../infusion/quantity.js";
import type { Evidence, Found, Rule, Settlement } from "../finding.js";
import { isLower, type Question, questionsIn } from "../questions.js";
import { saidTotals } from "../said.js";

export const readingDisagrees: Rule = {
  code: "reading-disagrees",
  runs: "recording",
  find: (evidence) =>
    questionsIn(evidence)
      .filter(({ first }) => !isLower(first))
      .map((question) => found(question, evidence)),
};

function found(question: Question, evidence: Evidence): Found {
  const { readings, first, last, increment, computed } = question;
  return {
    code: "reading-disagrees",
    severity: "question",
    subject: first.entry,
    channel: first.channel,
    totals: first.checkOnly ? ["primary", "secondary"] : [first.total],
    says: increment > computed ? "more" : "less",
    start: first.over.from,
    end: last.at,
    entries: [...readings.map(({ entry }) => entry), first.over.entry],
    volume: greater(minus(increment, computed), minus(computed, increment)),
    sentence: sentence(question, evidence),
    settledBy: [{ text: "An entry that explains it, late or amended." }, ...decisions(question, evidence)],
  };
}

function sentence({ readings, first, last, increment, computed }: Question, { words }: Evidence): string {
  const totals = first.checkOnly
    ? "totals together"
    : saidTotals([first.total]) + (readings.length > 1 ? `, read ${readings.length} times,` : "");
  const more = increment > computed;
  const difference = words.volume(more ? minus(increment, computed) : minus(computed, increment));
  const span = `from ${words.time(first.over.from)} to ${words.time(last.at)}`;
  return (
    `On ${first.channel} the ${totals} counted ${words.volume(increment)} ${span}, and ` +
    `${words.volume(computed)} was computed: ${difference} ${more ? "more" : "less"}.`
  );
}

/**
 * Which of the two counts is decided about each reading that strays by itself, and for all of a question
 * alike. A sum moves nothing, whatever is decided: all that can be said of it is that it was misread.
 */
function decisions({ readings, first }: Question, { until }: Evidence): Settlement[] {
  const alone = readings.filter(({ comparison }) => !comparison.agrees);
  const strayed = alone.length > 0 ? alone : readings;
  const decide = (use: "reading" | "computed") =>
    strayed.map(({ entry }) => ({
      do: "record" as const,
      entry: { kind: "variance-settled" as const, at: until, reading: entry, use },
    }));
  const useComputed = { text: "Use what was computed.", proposals: decide("computed") };
  return first.checkOnly
    ? [useComputed]
    : [{ text: "Use what was read.", proposals: decide("reading") }, useComputed];
}
