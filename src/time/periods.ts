/** Periods taken from one another. */

import { earliest, latest, type Period } from "./instant.js";

/** What is left of a period without others, in order; nothing of it is empty. */
export function without(period: Period, others: readonly Period[]): Period[] {
  let left = [period];
  for (const { start, end } of others) {
    left = left.flatMap((one) => [
      { start: one.start, end: earliest(one.end, start) },
      { start: latest(one.start, end), end: one.end },
    ]);
    left = left.filter((one) => one.start < one.end);
  }
  return left.sort((a, b) => a.start - b.start);
}

/** What two periods have in common; undefined where that is nothing. */
export function common(a: Period, b: Period): Period | undefined {
  const [start, end] = [latest(a.start, b.start), earliest(a.end, b.end)];
  return start < end ? { start, end } : undefined;
}
