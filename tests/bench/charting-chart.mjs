/**
 * A chart of a day: rows by category, by the hour or by shifts of eight, each figure rounded to a millilitre, with
 * sums and totals added up from the figures as they stand.
 */

import { HOURS, MIDNIGHT } from "./charting-day.mjs";
import { HOUR } from "./story.mjs";

export const INTAKE = [
  "iv-fluid",
  "iv-medication",
  "iv-push",
  "iv-flush",
  "blood-product",
  "oral",
  "enteral-feed",
  "enteral-water",
];
export const OUTPUT = ["urine", "gastric", "emesis", "stool", "drain", "chest-drain"];
const ML = 1_000;

export class Chart {
  /** By category and interval, in µL; what slips change before anything is added up. */
  cells = new Map();
  /** What totals are off by, by row and span. */
  off = new Map();

  /** @param {number} hours The length of an interval. */
  constructor(items, hours) {
    this.intervals = Array.from({ length: HOURS / hours }, (_, i) => ({
      start: MIDNIGHT + i * hours * HOUR,
      end: MIDNIGHT + (i + 1) * hours * HOUR,
    }));
    this.items = this.#inIntervals(items);
    for (const item of this.items) this.add(item.category, this.intervalOf(item), item.volume);
  }

  /** What one bag delivered by one role in an interval is one contribution; amounts stay apart. */
  #inIntervals(items) {
    const parts = new Map();
    for (const item of items) {
      const { start, end } = this.intervals[this.intervalOf(item)];
      const key = item.channel ? `${item.entries} ${item.bag} ${item.role} ${start}` : item.entries[0];
      const before = parts.get(key);
      parts.set(key, { ...item, start, end, volume: (before?.volume ?? 0) + item.volume });
    }
    return [...parts.values()];
  }

  intervalOf({ start }) {
    return this.intervals.findIndex((interval) => interval.start <= start && start < interval.end);
  }

  within(category, interval) {
    return this.items.filter((item) => item.category === category && this.intervalOf(item) === interval);
  }

  volume(category, interval) {
    return this.cells.get(`${category} ${interval}`) ?? 0;
  }

  add(category, interval, volume) {
    this.set(category, interval, this.volume(category, interval) + volume);
  }

  set(category, interval, volume) {
    this.cells.set(`${category} ${interval}`, volume);
  }

  /** The figures as they are sent. `exact` holds the cells that are written finer than a millilitre. */
  figures(exact = new Set()) {
    const round = (key, volume) => (exact.has(key) ? Math.round(volume) : Math.round(volume / ML) * ML);
    const cell = (category, i) => round(`${category} ${i}`, this.volume(category, i));
    const whole = { start: MIDNIGHT, end: MIDNIGHT + HOURS * HOUR };
    // A chart of one interval has no total of it besides.
    const totals = this.intervals.length > 1 ? [whole] : [];
    const written = (row, span, volume) => ({
      row,
      ...span,
      volume: volume + (this.off.get(keyOf(row, span)) ?? 0),
    });
    const rows = [...INTAKE, ...OUTPUT].flatMap((category) => {
      const own = this.intervals.map((span, i) => written({ category }, span, cell(category, i)));
      return totals.length === 0 ? own : [...own, written({ category }, whole, sum(own))];
    });
    const sums = [...this.intervals, ...totals].flatMap((span) => {
      const at = (categories) =>
        sum(
          rows.filter(
            ({ row, start, end }) =>
              categories.includes(row.category) && start === span.start && end === span.end,
          ),
        );
      const intake = written({ sum: "intake" }, span, at(INTAKE));
      const output = written({ sum: "output" }, span, at(OUTPUT));
      return [intake, output, written({ sum: "net" }, span, intake.volume - output.volume)];
    });
    return [...rows, ...sums];
  }
}

export const keyOf = (row, { start, end }) => `${JSON.stringify(row)} ${start} ${end}`;

const sum = (figures) => figures.reduce((all, { volume }) => all + volume, 0);
