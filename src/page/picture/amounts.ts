/**
 * Amounts that were measured, as blocks as wide as their hour: intake above the line, output below it, in the
 * scale of the bands, so that equal areas are equal volumes. Pure; times in ms, heights in mL/h.
 */

import type { Balance, Category, Interval } from "../api/shapes.js";
import { moment } from "../words/wall.js";

export interface Block {
  readonly side: "intake" | "output";
  /** Null for fluid nobody identified. */
  readonly category: Category | null;
  readonly interval: Interval;
  readonly start: number;
  readonly end: number;
  /** Height of what lies between it and the line, and of itself: mL over the hours of its interval. */
  readonly floor: number;
  readonly rate: number;
  /** mL. */
  readonly volume: number;
}

interface Counted {
  readonly category: Category | null;
  readonly volumes: readonly (number | null)[];
}

/** The blocks of a shift: measured intake, and all output. */
export function blocksOf(balance: Balance): Block[] {
  const intake = balance.intake.rows.flatMap(({ key, parts }) =>
    // What a channel gave is drawn by the bands.
    parts
      .filter(({ role, channel }) => role === null && channel === null)
      .map(({ volumes }) => ({ category: key, volumes })),
  );
  const output = balance.output.rows.map(({ key, volumes }) => ({ category: key, volumes }));
  return [...stacked("intake", intake, balance.intervals), ...stacked("output", output, balance.intervals)];
}

function stacked(side: Block["side"], counted: readonly Counted[], intervals: readonly Interval[]): Block[] {
  return intervals.flatMap((interval, index) => {
    const [start, end] = [moment(interval.start), moment(interval.end)];
    const hours = (end - start) / 3_600_000;
    let floor = 0;
    return counted.flatMap(({ category, volumes }): Block[] => {
      const volume = volumes[index] ?? 0;
      // Less than nothing (irrigant that has not come back) has no area: the table has it.
      if (volume <= 0) return [];
      const block = { side, category, interval, start, end, floor, rate: volume / hours, volume };
      floor += block.rate;
      return [block];
    });
  });
}

/** How high the blocks of one side ever stand, in mL/h. */
export function heightOf(blocks: readonly Block[], side: Block["side"]): number {
  return Math.max(0, ...blocks.filter((block) => block.side === side).map(({ floor, rate }) => floor + rate));
}
