/**
 * A weight that cannot be: outside of what people weigh, or too far from the one before. A second weight like it
 * bears it out, and then the first one is what remains to be looked at.
 */

import { type BodyWeight, kilograms } from "../../infusion/body-weight.js";
import type { Placed } from "../../infusion/entry.js";
import { decimal, type Ratio, ratio, times } from "../../infusion/ratio.js";
import type { Evidence, Found, Rule } from "../finding.js";

/** In kilograms: the smallest child that lives, and more than any scale of a ward weighs. */
const LEAST = ratio(3, 10);
const MOST = ratio(500);
/** Weights agree within a fifth of the larger one. */
const ALIKE = ratio(4, 5);
/** Pounds in a kilogram, a little less and a little more: a number in the wrong unit. */
const POUNDS = [ratio(214, 100), ratio(227, 100)] as const;

interface Weighed {
  readonly placed: Placed;
  readonly weight: BodyWeight;
  readonly kg: Ratio;
}

export const weightImplausible: Rule = {
  code: "weight-implausible",
  runs: "asking",
  find: (evidence) => {
    const all: Found[] = [];
    let [standing, doubted]: (Weighed | null)[] = [null, null];
    for (const one of weighed(evidence)) {
      const against: Weighed | null = standing ?? null;
      const possible = atMost(LEAST, one.kg) && atMost(one.kg, MOST);
      if (possible && (against === null || areAlike(one, against) || (doubted && areAlike(one, doubted)))) {
        [standing, doubted] = [one, null];
        continue;
      }
      all.push(found(one, possible ? against : null, evidence));
      if (possible) doubted = one;
    }
    return all;
  },
};

/** A weight charted at the very minute of the admission takes the place of the one that came with it. */
function weighed({ entries }: Evidence): Weighed[] {
  const measured = new Set(
    entries.flatMap(({ placed: { entry } }) => (entry.kind === "weight-measured" ? [entry.at] : [])),
  );
  return entries.flatMap(({ placed }) => {
    const { entry } = placed;
    if ((entry.kind !== "admitted" && entry.kind !== "weight-measured") || entry.weight === undefined)
      return [];
    if (entry.kind === "admitted" && measured.has(entry.at)) return [];
    return [{ placed, weight: entry.weight, kg: kilograms(entry.weight) }];
  });
}

function atMost(a: Ratio, b: Ratio): boolean {
  return a.n * b.d <= b.n * a.d;
}

function areAlike(a: Weighed, b: Weighed): boolean {
  return atMost(times(a.kg, ALIKE), b.kg) && atMost(times(b.kg, ALIKE), a.kg);
}

/** Whether one is the other's number in the other unit. */
function isInPounds(a: Weighed, b: Weighed): boolean {
  const [low, high] = POUNDS;
  const within = (one: Ratio, other: Ratio) =>
    atMost(times(other, low), one) && atMost(one, times(other, high));
  return within(a.kg, b.kg) || within(b.kg, a.kg);
}

function found(one: Weighed, before: Weighed | null, { words }: Evidence): Found {
  const { id, entry } = one.placed;
  const ids = before === null ? [id] : [id, before.placed.id];
  const than =
    before === null
      ? "which is not what a person weighs"
      : `after ${said(before)} at ${words.time(before.placed.entry.at)}`;
  const pounds =
    before !== null && isInPounds(one, before) ? ": pounds and kilograms may have been mixed up" : "";
  return {
    code: "weight-implausible",
    severity: "attention",
    subject: id,
    channel: null,
    start: entry.at,
    entries: ids,
    volume: null,
    sentence: `A weight of ${said(one)} was charted at ${words.time(entry.at)}, ${than}${pounds}.`,
    settledBy: [
      entry.kind === "admitted"
        ? { text: `The weight measured, charted at the minute of the admission, ${words.time(entry.at)}.` }
        : { text: "An amendment of the weight or of its unit." },
      { text: "Another weight that bears it out." },
    ],
  };
}

function said({ weight: { value, unit } }: Weighed): string {
  return `${decimal(ratio(value, 1_000), 3)} ${unit}`;
}
