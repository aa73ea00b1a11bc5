/**
 * Which readings still ask something. What a later reading shows to have been wrong asks nothing any
 * more; what a device goes on to say, and readings that stray the same way one after the other, are one
 * question, hung on the first.
 *
 * Invariant: every reading that disagrees, and that nobody settled, is in exactly one question or was
 * set aside.
 */

import type { TotalJudged } from "../infusion/evidence.js";
import { isFarFromSure } from "../infusion/mark.js";
import { NOTHING, plus, type Volume } from "../infusion/quantity.js";
import type { Outcome } from "../infusion/reading.js";
import { decidedBefore } from "../infusion/segments-in-totals.js";
import type { Evidence } from "./finding.js";
import { beyondShare, strayTogether } from "./together.js";

export interface Question {
  /** In order, at least one. */
  readonly readings: readonly TotalJudged[];
  readonly first: TotalJudged;
  readonly last: TotalJudged;
  /** What the readings say was delivered, from the first one's mark to the last one, and what was computed. */
  readonly increment: Volume;
  readonly computed: Volume;
}

type Asked = Pick<Evidence, "segments"> & { readonly collected: Pick<Evidence["collected"], "readings"> };

type Runs = TotalJudged[][];

/** The questions among readings, which are in the order in which they count; what was decided is not asked again. */
export function questionsIn({ collected: { readings }, segments }: Asked): Question[] {
  const runs: Runs = [];
  /** Per counter the run of the device's reading that waits: what the device goes on to say joins it. */
  const waiting = new Map<string, TotalJudged[]>();
  for (const reading of readings) {
    const { setsAside } = reading;
    const outcome = decidedBefore(reading, segments) === null ? reading.outcome : "agrees";
    if (reading.checkOnly) {
      check(runs, reading, outcome);
      continue;
    }
    const counter = `${reading.channel} ${reading.total}`;
    if (setsAside !== null) withdraw(runs, setsAside);
    if (outcome === "waits") waiting.set(counter, ask(runs, reading));
    if (outcome === "follows") waiting.set(counter, goOn(runs, waiting.get(counter), reading));
    if (outcome === "disputed") ask(runs, reading);
  }
  runs.push(...driftsIn(readings));
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

/** Runs of readings of which each is within its floor, and all of them together are not. */
function driftsIn(readings: readonly TotalJudged[]): TotalJudged[][] {
  const drifts: TotalJudged[][] = [];
  const open = new Map<string, TotalJudged[]>();
  for (const reading of readings) {
    if (reading.checkOnly) continue;
    const counter = `${reading.channel} ${reading.total}`;
    const run = open.get(counter);
    const last = run?.at(-1);
    const goesOn = last?.entry === reading.over.entry && moreRead(last) === moreRead(reading);
    if (!isDrifting(reading)) open.delete(counter);
    else if (goesOn) run!.push(reading);
    else {
      const begun = [reading];
      open.set(counter, begun);
      drifts.push(begun);
    }
  }
  return drifts.filter(isDrift);
}

/**
 * Whether readings stray together, and would if the first or the last of them had never been read: a single one
 * taken some minutes off its time moves what lies on both sides of it, and is no drift.
 */
function isDrift(run: readonly TotalJudged[]): boolean {
  return run.length > 2 && [run, run.slice(1), run.slice(0, -1)].every(strayTogether);
}

/** Whether a reading only agrees since so little was computed: it is off by more than the share it may be. */
export function isDrifting(reading: TotalJudged): boolean {
  const { outcome, over, type, decided, comparison, tolerance } = reading;
  if (outcome !== "agrees" || decided || over.atLeast || isFarFromSure(over)) return false;
  if (type === "metered" || comparison.increment < NOTHING) return false;
  if (100n * comparison.tolerance <= comparison.computed * BigInt(tolerance.percent)) return false;
  return beyondShare(reading, moreRead(reading) ? "more" : "less") > NOTHING;
}

/** A reading in question joins the run that it strays on from, or begins one; which is returned. */
function ask(runs: Runs, reading: TotalJudged): TotalJudged[] {
  const run = runs.find((one) => {
    const before = one.at(-1);
    return before !== undefined && before.entry === reading.over.entry && strayAlike(before, reading);
  });
  if (run === undefined) return begun(runs, reading);
  run.push(reading);
  return run;
}

/**
 * What a device goes on to say is no other question, however far it has strayed since; but a total that is
 * lower than it was has been cleared meanwhile, which the reading that waits says nothing of.
 */
function goOn(runs: Runs, run: TotalJudged[] | undefined, reading: TotalJudged): TotalJudged[] {
  const cleared = run?.[0] !== undefined && !isLower(run[0]) && isLower(reading);
  if (run?.[0] === undefined || cleared) return begun(runs, reading);
  run.push(reading);
  return run;
}

function begun(runs: Runs, reading: TotalJudged): TotalJudged[] {
  const run = [reading];
  runs.push(run);
  return run;
}

/** Takes back a reading, and with a device's one that waits all that the device said about it. */
function withdraw(runs: Runs, entry: string): void {
  for (const run of runs) {
    let place = run.findIndex((reading) => reading.entry === entry);
    if (place < 0) continue;
    const ofDevice = isOfDevice(run[place]!);
    while (ofDevice && place > 0 && isOfDevice(run[place - 1]!)) place--;
    run.splice(place, ofDevice ? run.length : 1);
  }
}

function isOfDevice({ outcome }: TotalJudged): boolean {
  return outcome === "waits" || outcome === "follows";
}

/**
 * A sum moves nothing, so each one repeats what the one before it said: the last over the same marks
 * counts, and if it agrees the ones before were misread.
 */
function check(runs: Runs, reading: TotalJudged, outcome: Outcome): void {
  const run = runs.find(([first]) => first?.checkOnly === true && first.over.entry === reading.over.entry);
  const goesOn = outcome === "disputed" && run !== undefined && strayAlike(run.at(-1)!, reading);
  if (goesOn) run.push(reading);
  else {
    run?.splice(0);
    if (outcome === "disputed") runs.push([reading]);
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
  return { readings, first, last, ...counted(readings) };
}

/**
 * What a run of readings says from its first mark on: one over that mark says all of it, one over a reading
 * what came after that.
 */
function counted(readings: readonly TotalJudged[]): Pick<Question, "increment" | "computed"> {
  const upTo = new Map<string, Pick<Question, "increment" | "computed">>();
  let all: Pick<Question, "increment" | "computed"> = { increment: NOTHING, computed: NOTHING };
  for (const { entry, over, comparison } of readings) {
    const before = upTo.get(over.entry);
    const { increment, computed } = comparison;
    all = {
      increment: plus(before?.increment ?? NOTHING, increment),
      computed: plus(before?.computed ?? NOTHING, computed),
    };
    upTo.set(entry, all);
  }
  return all;
}

/** A sum that is off because one of its totals is: that one's question tells it. */
function toldByACounter({ first, last }: Question, questions: readonly Question[]): boolean {
  if (!first.checkOnly) return false;
  return questions.some(
    ({ first: own }) =>
      !own.checkOnly && own.channel === first.channel && first.over.from < own.at && own.at <= last.at,
  );
}
