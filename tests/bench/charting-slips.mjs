/**
 * One slip of each kind in a chart that is otherwise right. Each plants itself in a chart and says what it did: the
 * entries it names and happened to, and the figure in which it shows; null where the day has no place for it.
 */

import { INTAKE, keyOf, OUTPUT } from "./charting-chart.mjs";
import { HOURS, MIDNIGHT } from "./charting-day.mjs";
import { HOUR } from "./story.mjs";

const ML = 1_000;
/** What matches although it differs. */
export const TOLERANCE = 10 * ML;

/** @typedef {{ entries: string[], of?: string[], exact?: string, at: { category?: string, interval?: number, row?: object, start?: number, end?: number } }} Planted */

/** What may be planted into `chart`; `where` is the cell it has to be in, if any. */
export const SLIPS = {
  "left-out": (random, chart, where) => {
    const item = pick(random, chart, where, ({ carrier, volume }) => !carrier && volume > TOLERANCE);
    return item && shifted(chart, item, -item.volume);
  },
  "carrier-left-out": (random, chart, where) => {
    const item = pick(random, chart, where, ({ carrier, volume }) => carrier && volume > TOLERANCE);
    return item && shifted(chart, item, -item.volume);
  },
  "counted-twice": (random, chart, where) => {
    const item = pick(random, chart, where, ({ volume }) => volume > TOLERANCE);
    return item && shifted(chart, item, item.volume);
  },
  "neighbouring-interval": (random, chart, where) => {
    const item = pick(random, chart, where, ({ volume }) => volume > TOLERANCE);
    if (!item) return null;
    const interval = chart.intervalOf(item);
    if (chart.intervals.length === 1) return null;
    const besides = [interval - 1, interval + 1].filter((one) => one >= 0 && one < chart.intervals.length);
    chart.add(item.category, random.oneOf(besides), item.volume);
    return shifted(chart, item, -item.volume);
  },
  "other-side": (random, chart, where) => {
    const item = pick(random, chart, where, ({ volume }) => volume > TOLERANCE);
    if (!item) return null;
    chart.add(
      random.oneOf(item.direction === "intake" ? OUTPUT : INTAKE),
      chart.intervalOf(item),
      item.volume,
    );
    return shifted(chart, item, -item.volume);
  },
  "other-row": (random, chart, where) => {
    const item = pick(random, chart, where, ({ volume }) => volume > TOLERANCE);
    if (!item) return null;
    const others = (item.direction === "intake" ? INTAKE : OUTPUT).filter((one) => one !== item.category);
    chart.add(random.oneOf(others), chart.intervalOf(item), item.volume);
    return shifted(chart, item, -item.volume);
  },
  "sign-turned": (random, chart, where) => {
    if (where) return null;
    const span = random.oneOf([...chart.intervals, { start: MIDNIGHT, end: MIDNIGHT + HOURS * HOUR }]);
    const row = { sum: "net" };
    const net = chart.figures().find((one) => keyOf(one.row, one) === keyOf(row, span)).volume;
    if (2 * Math.abs(net) <= TOLERANCE) return null;
    chart.off.set(keyOf(row, span), -2 * net);
    return { entries: [], at: { row, ...span } };
  },
  "bag-for-delivered": (random, chart, where) => {
    const firsts = chart.items.filter(
      (item, i) => item.label && chart.items.findIndex(({ bag }) => bag === item.bag) === i,
    );
    const bags = firsts.filter((item) => {
      const inPlace = sum(
        chart.items.filter((one) => one.bag === item.bag && chart.intervalOf(one) === chart.intervalOf(item)),
      );
      return item.label - inPlace > TOLERANCE && isIn(chart, item, where);
    });
    if (bags.length === 0) return null;
    const { bag, label, category, entries } = random.oneOf(bags);
    const own = chart.items.filter((one) => one.bag === bag);
    const place = chart.intervalOf(own[0]);
    const once = where !== undefined || random.happens(0.5);
    for (const one of own)
      if (!once || chart.intervalOf(one) === place) chart.add(category, chart.intervalOf(one), -one.volume);
    chart.add(category, place, label);
    return { entries, at: { category, interval: place } };
  },
  "ice-whole": (random, chart, where) => {
    const item = pick(
      random,
      chart,
      where,
      ({ whole, volume, direction }) => direction === "intake" && whole - volume > TOLERANCE,
    );
    return item && shifted(chart, item, item.whole - item.volume);
  },
  "output-whole": (random, chart, where) => {
    const item = pick(
      random,
      chart,
      where,
      ({ whole, volume, direction }) => direction === "output" && whole - volume > TOLERANCE,
    );
    return item && shifted(chart, item, item.whole - item.volume);
  },
  "secondary-in-primary": (random, chart, where) => {
    const there = where && { ...where, category: "iv-medication" };
    if (where && where.category !== "iv-fluid") return null;
    const item = pick(random, chart, there, ({ role }) => role === "secondary");
    if (!item) return null;
    chart.add("iv-fluid", chart.intervalOf(item), item.volume);
    return { entries: item.entries, at: { category: "iv-fluid", interval: chart.intervalOf(item) } };
  },
  "unit-slip": (random, chart, where) => {
    const item = pick(random, chart, where, ({ volume }) => volume > 2 * TOLERANCE);
    if (!item) return null;
    const interval = chart.intervalOf(item);
    const alone = chart.within(item.category, interval).length === 1;
    if (alone && random.happens(0.4)) {
      // In litres, with three decimals.
      chart.set(item.category, interval, Math.round(item.volume / 1_000));
      return {
        entries: item.entries,
        exact: `${item.category} ${interval}`,
        at: { category: item.category, interval },
      };
    }
    return shifted(chart, item, random.happens(0.5) ? 9 * item.volume : -0.9 * item.volume);
  },
  "transposed-digits": (random, chart, where) => {
    const item = pick(random, chart, where, ({ volume, ...item }) => {
      const [category, interval] = [item.category, chart.intervalOf(item)];
      return swaps(chart.volume(category, interval)).length > 0;
    });
    if (!item) return null;
    const [category, interval] = [item.category, chart.intervalOf(item)];
    chart.set(category, interval, random.oneOf(swaps(chart.volume(category, interval))));
    const entries = chart.within(category, interval).flatMap((one) => one.entries);
    return { entries, of: [], at: { category, interval } };
  },
  "reading-not-differenced": (random, chart, where) => {
    const readable = chart.items.filter((item) => {
      const own = counted(chart, item);
      return (
        item.reading !== undefined &&
        own.at(-1) === item &&
        item.reading - sum(own) > TOLERANCE &&
        isIn(chart, item, where)
      );
    });
    if (readable.length === 0) return null;
    const item = random.oneOf(readable);
    const own = counted(chart, item);
    return {
      ...shifted(chart, item, item.reading - sum(own)),
      entries: own.flatMap(({ entries }) => entries),
    };
  },
  "addition-slip": (random, chart, where) => {
    if (where) return null;
    const spans = [...chart.intervals, { start: MIDNIGHT, end: MIDNIGHT + HOURS * HOUR }];
    const span = random.oneOf(spans);
    const rows = [{ sum: "intake" }, { sum: "output" }, { sum: "net" }];
    if (span === spans.at(-1) && chart.intervals.length > 1)
      rows.push({ category: random.oneOf(INTAKE) }, { category: random.oneOf(OUTPUT) });
    const row = random.oneOf(rows);
    const by = random.happens(0.6) ? random.oneOf([20, 100, 100, 200]) : random.whole(11, 150);
    const off = (random.happens(0.5) ? by : -by) * ML;
    chart.off.set(`${JSON.stringify(row)} ${span.start} ${span.end}`, off);
    return { entries: [], at: { row, ...span } };
  },
};

/** A difference that nothing in the ledger accounts for, of whole so many mL. */
export function causeless(random, chart, grain = 1) {
  const category = random.oneOf([...INTAKE, ...OUTPUT]);
  const filled = chart.intervals.map((_, i) => i).filter((i) => chart.volume(category, i) > 0);
  const interval =
    random.happens(0.8) && filled.length > 0
      ? random.oneOf(filled)
      : random.whole(0, chart.intervals.length - 1);
  const off = (random.happens(0.5) ? 1 : -1) * grain * Math.ceil(random.whole(12, 300) / grain) * ML;
  const volume = chart.volume(category, interval);
  chart.add(category, interval, volume + off < 0 ? -off : off);
  return { category, interval };
}

function pick(random, chart, where, is) {
  const all = chart.items.filter((item) => is(item) && isIn(chart, item, where));
  return all.length === 0 ? null : random.oneOf(all);
}

function isIn(chart, item, where) {
  return (
    where === undefined || (item.category === where.category && chart.intervalOf(item) === where.interval)
  );
}

function shifted(chart, item, by) {
  const interval = chart.intervalOf(item);
  chart.add(item.category, interval, by);
  return { entries: item.entries, at: { category: item.category, interval } };
}

/** What one counter counted in the interval of an item. */
function counted(chart, item) {
  return chart.items.filter(
    (one) =>
      one.category === item.category &&
      one.channel === item.channel &&
      one.site === item.site &&
      (one.role === "secondary") === (item.role === "secondary") &&
      chart.intervalOf(one) === chart.intervalOf(item),
  );
}

function swaps(volume) {
  const digits = String(Math.round(volume / ML));
  return [...digits]
    .flatMap((_, i) =>
      i === 0 ? [] : [digits.slice(0, i - 1) + digits[i] + digits[i - 1] + digits.slice(i + 1)],
    )
    .filter((one) => !one.startsWith("0") && Math.abs(Number(one) * ML - volume) > TOLERANCE + ML)
    .map((one) => Number(one) * ML);
}

const sum = (items) => items.reduce((all, { volume }) => all + volume, 0);
