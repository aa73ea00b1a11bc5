/**
 * Which readings still ask something. What a later reading shows to have been wrong asks nothing any
 * more; what a device goes on to say, and readings that stray the same way one after the other, are one
 * question, hung on the first.
 *
 * Invariant: every reading that disagrees, and that nobody settled, is in exactly one question or was
 * set aside.
 */

import type { Collected } from "../infusion/collected.js";
import type { TotalJudged } from "../infusion/evidence.js";
import { NOTHING, plus, type Volume } from "../infusion/quantity.js";

export interface Question {
  /** In order, at least one. */
  readonly readings: readonly TotalJudged[];
  readonly first: TotalJudged;
  readonly last: TotalJudged;
  /** What the readings say was delivered, from the first one's mark to the last one, and what was computed. */
  readonly increment: Volume;
  readonly computed: Volume;
}

type Runs = TotalJudged[][];

/** The questions among readings, which are in the order in which they count. */
export function questionsIn({ readings }: Pick<Collected, "readings">): Question[] {
  const runs: Runs = [];
  /** Per counter the device's reading that waits, and for what the device said after it, that one. */
  const waiting = new Map<string, string>();
  const goesOnFrom = new Map<string, string>();
  for (const reading of readings) {
    const { entry, outcome, setsAside } = reading;
    if (reading.checkOnly) {
      check(runs, reading);
      continue;
    }
    const counter = `${reading.channel} ${reading.total}`;
    if (setsAside !== null) withdraw(runs, goesOnFrom.get(setsAside) ?? setsAside);
    if (outcome === "waits") waiting.set(counter, entry);
    if (outcome === "follows") goesOnFrom.set(entry, waiting.get(counter) ?? entry);
    if (outcome === "waits" || outcome === "disputed") ask(runs, reading);
  }
  const questions = runs.filter((run) => run.length > 0).map(question);
  return questions.filter((one) => !toldByACounter(one, questions));
}

/**
 * Whether a reading can only be understood by a clear before it, or as misread: it is lower than what its
 * mark says, or a zero nobody could confirm.
 */
export function isLower({ comparison, value, outcome }: TotalJudged): boolean {
  return comparison.increment < NOTHING || (outcome === "waits" && value <= NOTHING);
}

function ask(runs: Runs, reading: TotalJudged): void {
  const run = runs.find((one) => {
    const before = one.at(-1);
    return before !== undefined && before.entry === reading.over.entry && strayAlike(before, reading);
  });
  if (run === undefined) runs.push([reading]);
  else run.push(reading);
}

function withdraw(runs: Runs, entry: string): void {
  for (const run of runs) {
    const place = run.findIndex((reading) => reading.entry === entry);
    if (place >= 0) run.splice(place, 1);
  }
}

/**
 * A sum moves nothing, so each one repeats what the one before it said: the last over the same marks
 * counts, and if it agrees the ones before were misread.
 */
function check(runs: Runs, reading: TotalJudged): void {
  const run = runs.find(([first]) => first?.checkOnly === true && first.over.entry === reading.over.entry);
  const goesOn = reading.outcome === "disputed" && run !== undefined && strayAlike(run.at(-1)!, reading);
  if (goesOn) run.push(reading);
  else {
    run?.splice(0);
    if (reading.outcome === "disputed") runs.push([reading]);
  }
}

function strayAlike(a: TotalJudged, b: TotalJudged): boolean {
  return !isLower(a) && !isLower(b) && moreRead(a) === moreRead(b);
}

function moreRead({ comparison }: TotalJudged): boolean {
  return comparison.increment > comparison.computed;
}

function question(readings: readonly TotalJudged[]): Question {
  const [first, last] = [readings[0]!, readings.at(-1)!];
  const counted = first.checkOnly ? [last] : readings;
  const sum = (of: "increment" | "computed") =>
    counted.reduce((all, { comparison }) => plus(all, comparison[of]), NOTHING);
  return { readings, first, last, increment: sum("increment"), computed: sum("computed") };
}

/** A sum that is off because one of its totals is: that one's question tells it. */
function toldByACounter({ first, last }: Question, questions: readonly Question[]): boolean {
  if (!first.checkOnly) return false;
  return questions.some(
    ({ first: own }) =>
      !own.checkOnly && own.channel === first.channel && first.over.from < own.at && own.at <= last.at,
  );
}
