/**
 * How well charting slips are explained: invented days, each charted right but for one slip or two, reconciled with
 * the ledger. Per kind: how often the true explanation is first or in a named tie, and how often among the first
 * three; and how often a difference without a cause is explained all the same. The figures are told as they are,
 * beside what is aimed at.
 */

import { ledgerOf } from "../../dist/src/balance/charts/chart.js";
import { reconcile } from "../../dist/src/balance/charts/reconcile.js";
import { Chart } from "./charting-chart.mjs";
import { day } from "./charting-day.mjs";
import { causeless, SLIPS, TOLERANCE } from "./charting-slips.mjs";
import { Random } from "./detection-random.mjs";
import { median } from "./measuring.mjs";

const words = { time: String, volume: String };
/** By the hour, and by shifts of eight: more in a figure, and more to choose from. */
const LAYOUTS = [1, 8];

/** @param {{ quick: boolean }} asked @returns {import("./table.mjs").Result[]} */
export function charting({ quick }) {
  const kinds = Object.keys(SLIPS);
  const count = quick ? 20 : 150;
  const singles = LAYOUTS.flatMap((hours) => kinds.flatMap((kind) => single(kind, hours, count)));
  const pairs = LAYOUTS.flatMap((hours) => kinds.flatMap((kind) => apart(kind, hours, count)));
  const same = LAYOUTS.flatMap((hours) => kinds.flatMap((kind) => inOneFigure(kind, hours, count)));
  const none = LAYOUTS.flatMap((hours) => withoutCause(hours, 10 * count));
  return [
    { what: "charts, one slip: true explanation first or in a named tie", ...aimed(share(singles, isFirst), "≥", 0.95) },
    { what: "  two slips in a chart: both among the first three", ...aimed(share(pairs, amongThree), "≥", 0.85) },
    { what: "  two slips in one figure: both, among the first three", ...aimed(share(same, amongThree), "≥", 0.85) },
    { what: `  of ${none.length} differences without a cause, explained`, ...aimed(share(none, Boolean), "≤", 0.1) },
    ...LAYOUTS.map((hours) => ({
      what: `    by intervals of ${hours} h`,
      ...told(perCent(share(none.filter((one, i) => i < 10 * count === (hours === LAYOUTS[0])), Boolean))),
    })),
    { what: "  by kind:", ...told("one slip: first or tied (tied), among three | two in a chart | in one figure") },
    ...kinds.map((kind) => row(kind, singles, pairs, same)),
    speed(quick),
  ];
}

function row(kind, singles, pairs, same) {
  const of = (all) => all.filter((one) => one.kind === kind);
  const [one, two, both] = [of(singles), of(pairs), of(same)];
  const first = `${perCent(share(one, isFirst))} (${perCent(share(one, isTied))}), ${perCent(share(one, amongThree))} of ${one.length}`;
  const more = [two, both].map((some) => (some.length === 0 ? "–" : `${perCent(share(some, amongThree))} of ${some.length}`));
  return { what: `    ${kind}`, ...told([first, ...more].join(" | ")) };
}

/** A 24 h chart by the hour against about 500 contributions, with a difference in every third figure. */
function speed(quick) {
  const times = Array.from({ length: quick ? 3 : 11 }, (_, i) => {
    const random = new Random(`speed ${i}`);
    const chart = new Chart(day(random), 1);
    for (let n = 0; n < 100; n++) causeless(random, chart);
    const [figures, ledger] = [chart.figures(), ledgerOf(chart.items)];
    const begun = performance.now();
    reconcile(figures, ledger, TOLERANCE, words);
    return performance.now() - begun;
  });
  const milliseconds = median(times);
  return { what: "  a day by the hour with a hundred differences", measured: `${milliseconds.toFixed(0)} ms`, bound: "< 1000 ms", holds: milliseconds < 1_000 };
}

function single(kind, hours, count) {
  return many(`one ${kind} by ${hours}`, count, (random, chart) => {
    const planted = SLIPS[kind](random, chart);
    return planted && outcome(kind, chart, [{ kind, ...planted }]);
  });
}

/** A slip of a kind and one of any other, wherever they fall. */
function apart(kind, hours, count) {
  return many(`two in a chart, ${kind} by ${hours}`, count, (random, chart) => {
    const other = random.oneOf(Object.keys(SLIPS));
    const [a, b] = [SLIPS[kind](random, chart), SLIPS[other](random, chart)];
    if (!a || !b || sameCell(a, b)) return null;
    const each = [{ kind, ...a }, { kind: other, ...b }];
    const exact = each.flatMap(({ exact }) => exact ?? []);
    const judged = each.map((one) => outcome(kind, chart, [one], exact));
    return judged.includes(null) ? null : { kind, place: Math.max(...judged.map(({ place }) => place)), tied: false };
  });
}

/** Two slips in the same figure, told as one explanation of it. */
function inOneFigure(kind, hours, count) {
  return many(`two in a figure, ${kind} by ${hours}`, count, (random, chart) => {
    const a = SLIPS[kind](random, chart);
    if (!a || a.exact || a.at.category === undefined) return null;
    if (WRITING.includes(kind)) return null;
    const others = Object.keys(SLIPS).filter((other) => !WRITING.includes(other));
    for (let tries = 0; tries < 8; tries++) {
      const other = random.oneOf(others);
      const b = SLIPS[other](random, chart, a.at);
      if (!b) continue;
      if (!sameCell(a, b) || a.entries.some((one) => b.entries.includes(one))) return null;
      return outcome(kind, chart, [{ kind, ...a }, { kind: other, ...b }]);
    }
    return null;
  });
}

/** A figure that is written down wrong as a whole is that last: it needs something to be wrong with already. */
const WRITING = ["transposed-digits", "addition-slip", "unit-slip"];

const sameCell = (a, b) => JSON.stringify(a.at) === JSON.stringify(b.at);

function withoutCause(hours, count) {
  const random = new Random(`without a cause by ${hours}`);
  return Array.from({ length: count }, () => {
    const chart = new Chart(day(random), hours);
    const at = causeless(random, chart);
    const difference = differenceAt(chart, at, []);
    return difference !== undefined && difference.explanations.length > 0;
  });
}

function many(seed, count, one) {
  const random = new Random(seed);
  const results = Array.from({ length: count }, () => one(random, new Chart(day(random), random.hours ?? Number(seed.split(" by ").at(-1)))));
  return results.filter((result) => result !== null);
}

/** The place at which all that was planted into a figure is explained; null where it does not differ. */
function outcome(kind, chart, planted, exact = planted.flatMap((one) => one.exact ?? [])) {
  const difference = differenceAt(chart, planted[0].at, exact);
  if (difference === undefined) return null;
  const at = difference.explanations.findIndex((one) => isAll([one, ...one.together], planted));
  const named = difference.explanations[at];
  return { kind, place: at + 1 || Number.POSITIVE_INFINITY, first: named?.place === 1, tied: named?.place === 1 && named.tied };
}

/** The kinds that were planted and no other, of the same entries; two of a kind may be told as one. */
function isAll(causes, planted) {
  const kinds = (some) => [...new Set(some.map(({ kind }) => kind))].sort().join();
  const entries = (some) => [...new Set(some.flatMap((one) => one.entries))].sort().join();
  return kinds(causes) === kinds(planted) && entries(causes) === entries(planted);
}

function differenceAt(chart, at, exact) {
  const { differences } = reconcile(chart.figures(new Set(exact)), ledgerOf(chart.items), TOLERANCE, words);
  const where = at.row ? at : { row: { category: at.category }, ...chart.intervals[at.interval] };
  return differences.find(
    ({ row, start, end }) =>
      JSON.stringify(row) === JSON.stringify(where.row) && start === where.start && end === where.end,
  );
}

const isFirst = ({ first }) => first;
const isTied = ({ tied }) => tied;
const amongThree = ({ place }) => place <= 3;

const share = (all, is) => (all.length === 0 ? 0 : all.filter(is).length / all.length);
const perCent = (value) => `${(100 * value).toFixed(value > 0 && value < 0.1 ? 1 : 0)} %`;
const told = (measured) => ({ measured, bound: "", holds: null });

function aimed(value, sign, aim) {
  const holds = sign === "≥" ? value >= aim : value <= aim;
  return { measured: `${(100 * value).toFixed(1)} %`, bound: `${sign} ${100 * aim} %`, holds };
}
