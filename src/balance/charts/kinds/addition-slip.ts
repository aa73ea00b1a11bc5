/**
 * A total does not come to what stands above it. Where the parts are charted that is a fact; where only the total
 * is, no more can be supposed than the commonest slip, a carry missed or made twice: one in some place of ten.
 */

import type { Microlitres } from "../../../infusion/entry.js";
import type { ChartWords } from "../chart.js";
import type { Adding, Figure } from "../figure.js";
import { listed, saidFigure, saidRow } from "../said.js";
import { type FindSlips, oneEffect, type Slip } from "../slip.js";
import { apartIn } from "./not-in-totals.js";

/** The most addends that are named. */
const NAMED = 3;
const CARRIES: readonly Microlitres[] = [10_000, 100_000, 1_000_000];

export const additionSlip: FindSlips = function* ({ figure, sheet }) {
  const { adding } = figure;
  if (adding === undefined) return;
  if (adding.parts.length === 0) {
    for (const carry of CARRIES) for (const off of [carry, -carry]) yield carried(figure, off);
    return;
  }
  // What the unit counts in no total was added in all the same: that is no slip of addition.
  const off = figure.difference + adding.uncovered;
  const isApart = apartIn(figure, sheet).some(({ volume }) => Math.abs(volume - off) <= figure.fit);
  if (isApart) return;
  if (adding.uncovered === 0) {
    yield* added(figure, adding, figure.difference);
    return;
  }
  // What has no row was left out of the addition, or was added in all the same.
  yield* added(figure, adding, off);
  for (const carry of CARRIES) {
    for (const by of [carry, -carry]) if (Math.abs(by - off) > figure.fit) yield carried(figure, by);
  }
};

function carried(figure: Figure, off: Microlitres): Slip {
  return {
    kind: "addition-slip",
    items: [],
    effects: oneEffect(figure, off),
    rarity: 15,
    tell: (words) =>
      `${saidFigure(figure, words)} seems to be added up ${offBy(off, words)}, as by a carry: add it up again.`,
  };
}

/** What the chart's own figures show: how far the total is from them, and whether that is one of them. */
function* added(figure: Figure, { parts, uncovered }: Adding, off: Microlitres): Iterable<Slip> {
  const sum = figure.charted - off;
  const certain = {
    kind: "addition-slip",
    items: [],
    effects: oneEffect(figure, off),
    certain: true,
  } as const;
  const near = (volume: Microlitres) => volume !== 0 && Math.abs(volume - off) <= figure.fit;
  const missed = parts.filter(({ volume }) => near(-volume));
  const twice = parts.filter(({ volume }) => near(volume));
  const say = (words: ChartWords, more: string) =>
    `${saidFigure(figure, words)} is charted as ${words.volume(figure.charted)}; what stands above it comes to ` +
    `${words.volume(sum)}, so it is added up ${offBy(off, words)}${more}: add it up again.`;
  const which = missed.length > 0 ? missed : twice;
  // More than a few say nothing.
  if (which.length > 0 && which.length <= NAMED) {
    const how = missed.length > 0 ? "without" : "with twice";
    const tell: Slip["tell"] = (words) => say(words, `, perhaps ${how} ${saidAddends(which, figure, words)}`);
    yield { ...certain, rarity: 8, tell };
    return;
  }
  const isCarry = CARRIES.some((carry) => near(carry) || near(-carry));
  const unusual = uncovered === 0 ? 13 : 20;
  yield { ...certain, rarity: isCarry ? 8 : unusual, tell: (words) => say(words, "") };
}

/** Of which row, and in which interval where that is not the total's own. */
function saidAddends(which: Adding["parts"], total: Figure, words: ChartWords): string {
  const said = which.map((part) =>
    part.start === total.start && part.end === total.end ? saidRow(part.row) : saidFigure(part, words),
  );
  return listed(said, "or");
}

function offBy(off: Microlitres, words: ChartWords): string {
  return `${words.volume(Math.abs(off))} too ${off > 0 ? "high" : "low"}`;
}
