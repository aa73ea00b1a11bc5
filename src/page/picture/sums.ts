/** The running sums of a shift as lines: intake, output and net since its start. Pure; times in ms, sums in mL. */

import type { Balance } from "../api/shapes.js";
import { moment } from "../words/wall.js";

export interface Point {
  readonly at: number;
  readonly sum: number;
}

export interface RunningSums {
  readonly intake: readonly Point[];
  readonly output: readonly Point[];
  readonly net: readonly Point[];
}

/** The sums at the end of every interval that has begun; the one that runs ends at `until`. */
export function runningSums(balance: Balance, until: string): RunningSums {
  return {
    intake: summed(balance, balance.intake.sums, until),
    output: summed(balance, balance.output.sums, until),
    net: summed(balance, balance.net, until),
  };
}

function summed({ intervals }: Balance, volumes: readonly (number | null)[], until: string): Point[] {
  const first = intervals[0];
  if (first === undefined) return [];
  const points: Point[] = [{ at: moment(first.start), sum: 0 }];
  for (const [index, volume] of volumes.entries()) {
    if (volume === null) break;
    const at = Math.min(moment(intervals[index]!.end), moment(until));
    points.push({ at, sum: points.at(-1)!.sum + volume });
  }
  return points;
}

/** The least and the most of all the lines, nothing among them. */
export function extent({ intake, output, net }: RunningSums): { least: number; most: number } {
  const sums = [...intake, ...output, ...net].map(({ sum }) => sum);
  return { least: Math.min(0, ...sums), most: Math.max(0, ...sums) };
}
