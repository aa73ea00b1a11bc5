/**
 * How well charting slips are explained: invented days, each charted right but for one slip or two, reconciled with
 * the ledger. Per kind: how often the true explanation is first or in a named tie, and how often among the first
 * three; and how often a difference without a cause is explained all the same. A hedged tie, which names all that fits
 * and claims none of it, counts as naming what it names, and explains nothing. The figures are told as they are,
 * beside what is aimed at.
 */

import { ledgerOf } from "../../dist/src/balance/charts/chart.js";
import { reconcile } from "../../dist/src/balance/charts/reconcile.js";
import { Chart, INTAKE, keyOf } from "./charting-chart.mjs";
import { day } from "./charting-day.mjs";
import { causeless, SLIPS, TOLERANCE } from "./charting-slips.mjs";
import { Random } from "./detection-random.mjs";
import { median } from "./measuring.mjs";
import { HOUR } from "./story.mjs";

const words = { time: String, volume: String };
/** Hours to an interval: the longer, the more there is in a figure, and the more to choose from. */
const LAYOUTS = [1, 8, 24];
/** Hours to a sum where nothing else is charted. */
const BARE = [8, 12];
/** People write whole 1, 5 and 10 mL; round differences meet more often. */
const GRAINS = [1, 5, 10];

/** @param {{ quick: boolean }} asked @returns {import("./table.mjs").Result[]} */
export function charting({ quick }) {
  const kinds = Object.keys(SLIPS);
  const count = quick ? 10 : 50;
  const each = (plant) => LAYOUTS.flatMap((hours) => kinds.flatMap((kind) => plant(kind, hours, count)));
  const [singles, pairs, same] = [each(single), each(apart), each(inOneFigure)];
  const none = LAYOUTS.flatMap((hours) => withoutCause(hours, 10 * count));
  const sums = sumsWithoutCause(10 * count);
  const bare = BARE.flatMap((hours) => kinds.flatMap((kind) => singleInSums(kind, hours, count)));
  return [
    {
      what: "charts, one slip: true explanation first or in a named tie",
      ...aimed(share(singles, isFirst), "≥", 0.95),
    },
    {
      what: `  of those, in a hedged tie`,
      ...told(`${perCent(share(singles, isHedged))}, of so many entries: ${spread(singles)}`),
    },
    {
      what: `  one slip, nothing charted but sums of 8 and 12 h: first or in a named tie`,
      ...aimed(share(bare, isFirst), "≥", 0.95),
    },
    {
      what: `  of those, in a hedged tie`,
      ...told(`${perCent(share(bare, isHedged))}, of so many entries: ${spread(bare)}`),
    },
    {
      what: "  two slips in a chart: both among the first three",
      ...aimed(share(pairs, amongThree), "≥", 0.85),
    },
    {
      what: `  of ${none.length} differences without a cause, explained`,
      ...aimed(share(none, isExplained), "≤", 0.1),
    },
    {
      what: "  of those, given nothing but what may be chance",
      ...told(
        `${perCent(share(none, isHedged))}, by length: ${LAYOUTS.map((hours) =>
          perCent(
            share(
              none.filter((one) => one.hours === hours),
              isHedged,
            ),
          ),
        ).join(", ")}`,
      ),
    },
    {
      what: `  of ${sums.length} shifts charted as nothing but sums, without a cause, explained`,
      ...aimed(share(sums, isExplained), "≤", 0.1),
    },
    {
      what: "  of those, given nothing but what may be chance",
      ...told(perCent(share(sums, isHedged))),
    },
    {
      what: "  by length of intervals, and by kind:",
      ...told("one slip: first or tied (tied), among three | two in a chart | in one figure"),
    },
    ...LAYOUTS.map((hours) => {
      const of = (all) => all.filter((one) => one.hours === hours);
      const without = `without a cause: ${perCent(share(of(none), isExplained))}`;
      return row(`${hours} h`, of(singles), of(pairs), of(same), without);
    }),
    ...kinds.map((kind) => {
      const of = (all) => all.filter((one) => one.kind === kind);
      return row(
        kind,
        of(singles),
        of(pairs),
        of(same),
        `in sums: ${perCent(share(of(bare), isFirst))} of ${of(bare).length}`,
      );
    }),
    ...GRAINS.map((grain) => {
      const of = (all) => all.filter((one) => one.grain === grain);
      const by = LAYOUTS.map((hours) =>
        perCent(
          share(
            of(none).filter((one) => one.hours === hours),
            isExplained,
          ),
        ),
      );
      const measured = `${LAYOUTS.join(", ")} h: ${by.join(", ")}; sums: ${perCent(share(of(sums), isExplained))}`;
      return { what: `    without a cause, of whole ${grain} mL`, ...told(measured) };
    }),
    speed(quick),
  ];
}

function row(what, one, two, both, ...more) {
  const first = `${perCent(share(one, isFirst))} (${perCent(share(one, isTied))}), ${perCent(share(one, amongThree))} of ${one.length}`;
  const rest = [two, both].map((some) =>
    some.length === 0 ? "–" : `${perCent(share(some, amongThree))} of ${some.length}`,
  );
  return { what: `    ${what}`, ...told([first, ...rest, ...more].join(" | ")) };
}

/** A 24 h chart by the hour, 20 rows with those by line, against 500 contributions; nearly all of it differs. */
function speed(quick) {
  const times = Array.from({ length: quick ? 3 : 11 }, (_, i) => {
    const random = new Random(`speed ${i}`);
    const chart = new Chart([...day(random), ...day(random), ...day(random)].slice(0, 500), 1);
    const lines = ["forearm", "port", "tube"].flatMap((line) =>
      chart.intervals.map((span) => ({ row: { line }, ...span, volume: 10_000 * random.whole(0, 30) })),
    );
    for (let n = 0; n < 400; n++) causeless(random, chart);
    const [figures, ledger] = [[...chart.figures(), ...lines], ledgerOf(chart.items)];
    const begun = performance.now();
    reconcile(figures, ledger, TOLERANCE, words);
    return performance.now() - begun;
  });
  const milliseconds = median(times);
  return {
    what: "  24 hours, 20 rows, 500 contributions, nearly all different",
    measured: `${milliseconds.toFixed(0)} ms`,
    bound: "< 1000 ms",
    holds: milliseconds < 1_000,
  };
}

function single(kind, hours, count) {
  return many(`one ${kind}`, hours, count, (random, chart) => {
    const planted = SLIPS[kind](random, chart);
    return planted && outcome(kind, chart, [{ kind, ...planted }]);
  });
}

/** A slip of a kind and one of any other, wherever they fall. */
function apart(kind, hours, count) {
  return many(`two in a chart, ${kind}`, hours, count, (random, chart) => {
    const other = random.oneOf(Object.keys(SLIPS));
    const [a, b] = [SLIPS[kind](random, chart), SLIPS[other](random, chart)];
    if (!a || !b || sameCell(a, b)) return null;
    const each = [
      { kind, ...a },
      { kind: other, ...b },
    ];
    const exact = each.flatMap(({ exact }) => exact ?? []);
    const judged = each.map((one) => outcome(kind, chart, [one], exact));
    return judged.includes(null)
      ? null
      : { kind, place: Math.max(...judged.map(({ place }) => place)), tied: false };
  });
}

/** Two slips in the same figure, told as one explanation of it. */
function inOneFigure(kind, hours, count) {
  return many(`two in a figure, ${kind}`, hours, count, (random, chart) => {
    const a = SLIPS[kind](random, chart);
    if (!a || a.exact || a.at.category === undefined) return null;
    // A figure is written down wrong as a whole only once everything else has gone wrong with what it holds.
    if (kind === "transposed-digits") return null;
    const others = Object.keys(SLIPS).filter((other) => other !== "addition-slip");
    for (let tries = 0; tries < 8; tries++) {
      const other = random.oneOf(others);
      const b = SLIPS[other](random, chart, a.at);
      if (!b || b.exact) continue;
      if (!sameCell(a, b) || haveInCommon(a, b)) return null;
      return outcome(kind, chart, [
        { kind, ...a },
        { kind: other, ...b },
      ]);
    }
    return null;
  });
}

const haveInCommon = (a, b) => (a.of ?? a.entries).some((one) => (b.of ?? b.entries).includes(one));
const sameCell = (a, b) => JSON.stringify(a.at) === JSON.stringify(b.at);

function withoutCause(hours, count) {
  return many("without a cause", hours, count, (random, chart) => {
    const grain = random.oneOf(GRAINS);
    const difference = differenceAt(chart, causeless(random, chart, grain), []);
    return { grain, explained: isClaimed(difference), hedged: isOnlyHedged(difference) };
  });
}

/** A shift of which nothing is charted but what went in and what came out, one of them off by what people write. */
function sumsWithoutCause(count) {
  return many("sums without a cause", 8, count, (random, chart) => {
    const [shift] = chart.intervals;
    const row = { sum: random.oneOf(["intake", "output"]) };
    const grain = random.oneOf(GRAINS);
    const off = (random.happens(0.5) ? 1 : -1) * grain * Math.ceil(random.whole(12, 300) / grain) * 1_000;
    chart.off.set(keyOf(row, shift), off);
    const figures = chart
      .figures()
      .filter(({ row, start }) => "sum" in row && row.sum !== "net" && start === shift.start);
    const { differences } = reconcile(figures.slice(0, 2), ledgerOf(chart.items), TOLERANCE, words);
    return { grain, explained: isClaimed(differences[0]), hedged: isOnlyHedged(differences[0]) };
  });
}

/** A slip in a chart of nothing but what went in and what came out. */
function singleInSums(kind, hours, count) {
  return many(`one in sums, ${kind}`, hours, count, (random, chart) => {
    // Digits are swapped in cells, and there are none.
    if (kind === "transposed-digits") return null;
    const planted = SLIPS[kind](random, chart);
    if (!planted || planted.at.category === undefined || planted.exact) return null;
    const row = { sum: INTAKE.includes(planted.at.category) ? "intake" : "output" };
    const at = { row, ...chart.intervals[planted.at.interval] };
    const isSum = ({ row, start, end }) => "sum" in row && row.sum !== "net" && end - start === hours * HOUR;
    return outcome(kind, chart, [{ kind, ...planted, at }], [], isSum);
  });
}

/** So many days, charted and changed in turn; those without a place for what is planted are left out. */
function many(what, hours, count, change) {
  const random = new Random(`second ${what} by ${hours} h`);
  return Array.from({ length: count }, () => change(random, new Chart(day(random), hours)))
    .filter((result) => result !== null)
    .map((result) => ({ hours, ...result }));
}

/** The place at which all that was planted into a figure is explained; null where it does not differ. */
function outcome(
  kind,
  chart,
  planted,
  exact = planted.flatMap((one) => one.exact ?? []),
  isSent = () => true,
) {
  const difference = differenceAt(chart, planted[0].at, exact, isSent);
  if (difference === undefined) return null;
  const at = difference.explanations.findIndex((one) => isAll([one, ...one.together], planted));
  const named = difference.explanations[at];
  return {
    kind,
    place: at + 1 || Number.POSITIVE_INFINITY,
    first: named?.place === 1,
    tied: named?.place === 1 && named.tied,
    hedged: named?.hedged ? difference.explanations.length : 0,
  };
}

/** The kinds that were planted and no other, of the same entries; two of a kind may be told as one. */
function isAll(causes, planted) {
  const kinds = (some) => [...new Set(some.map(({ kind }) => kind))].sort().join();
  const entries = (some) => [...new Set(some.flatMap((one) => one.entries))].sort().join();
  return kinds(causes) === kinds(planted) && entries(causes) === entries(planted);
}

function differenceAt(chart, at, exact, isSent = () => true) {
  const figures = chart.figures(new Set(exact)).filter(isSent);
  const { differences } = reconcile(figures, ledgerOf(chart.items), TOLERANCE, words);
  const where = at.row ? at : { row: { category: at.category }, ...chart.intervals[at.interval] };
  return differences.find(
    ({ row, start, end }) =>
      JSON.stringify(row) === JSON.stringify(where.row) && start === where.start && end === where.end,
  );
}

/** Whether something is said to be the reason; a hedged tie says that of nothing. */
const isClaimed = (difference) => difference?.explanations.some(({ hedged }) => !hedged) ?? false;
const isOnlyHedged = (difference) => (difference?.explanations.length ?? 0) > 0 && !isClaimed(difference);
const spread = (all) => {
  const sizes = all.flatMap(({ hedged }) => hedged || []).sort((a, b) => a - b);
  return sizes.length === 0 ? "–" : `${sizes[0]} to ${sizes.at(-1)}, half up to ${sizes[sizes.length >> 1]}`;
};
const isHedged = ({ hedged }) => Number(hedged) > 0;
const isExplained = ({ explained }) => explained;
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
