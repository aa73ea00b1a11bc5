/**
 * What the naive simulator delivered, step by step, per channel, line, bag and role: runs of steps that
 * got the same volume each, so that a day of seconds fits in memory. Volumes are ticks.
 */

import type { Bag, Channel } from "./ward.js";

interface Run {
  readonly line: string | null;
  readonly bag: Bag | null;
  readonly role: string;
  readonly start: number;
  end: number;
  readonly each: number;
}

/** The name of a row in everything that is compared with the simulator. */
export function rowName(channel: string, line: string | null, bag: string | null, role: string): string {
  return [channel, line ?? "no-line", bag ?? "no-bag", role].join(" ");
}

export class Pours {
  private readonly runs = new Map<Channel, Run[]>();

  constructor(private readonly step: number) {}

  /** The channel got `given` from the bag in the step that starts at `now`. */
  record(channel: Channel, bag: Bag | null, role: string, now: number, given: number): void {
    const known = this.runs.get(channel) ?? [];
    if (known.length === 0) this.runs.set(channel, known);
    const last = known.at(-1);
    const goesOn =
      last !== undefined &&
      last.end === now &&
      last.each === given &&
      last.bag === bag &&
      last.role === role &&
      last.line === channel.line;
    if (goesOn) last.end += this.step;
    else known.push({ line: channel.line, bag, role, start: now, end: now + this.step, each: given });
  }

  /** Ticks per row between two whole steps; rows that got nothing are left out. */
  between(start: number, end: number): Map<string, number> {
    const sums = new Map<string, number>();
    for (const [channel, runs] of this.runs) {
      for (const run of runs) {
        const steps = (Math.min(run.end, end) - Math.max(run.start, start)) / this.step;
        if (steps <= 0) continue;
        const row = rowName(channel.key, run.line, run.bag?.key ?? null, run.role);
        sums.set(row, (sums.get(row) ?? 0) + steps * run.each);
      }
    }
    return sums;
  }
}
