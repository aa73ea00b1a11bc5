/** Volume rows as JSON: mL, labels for people, sums that add up to what is shown. */

import type { VolumeRow } from "../infusion/volumes.js";
import { type Instant, MINUTE } from "../time/instant.js";
import { type Stretch, shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";
import type { Interval } from "./period.js";

export interface VolumeRowText {
  readonly key: string | null;
  readonly label: string;
  readonly volumes: readonly (number | null)[];
  readonly computed: readonly (number | null)[];
  readonly basis: readonly (string | null)[];
  readonly since: readonly (string | null)[];
  readonly unknown: readonly number[];
  readonly total: number;
}

export interface VolumesText {
  readonly intervals: readonly {
    readonly start: string;
    readonly end: string;
    readonly label: string;
    readonly complete: boolean;
  }[];
  readonly rows: readonly VolumeRowText[];
  readonly sums: readonly (number | null)[];
  readonly total: number;
}

export function volumesText(
  rows: readonly VolumeRow[],
  labels: readonly string[],
  intervals: readonly Interval[],
  until: Instant,
  stretches: readonly Stretch[],
): VolumesText {
  const time = (at: Instant) => formatInstant(at, shiftAt(stretches, at).zone);
  const sums = intervals.map(({ start }, i) =>
    start < until ? millilitres(rows.reduce((sum, row) => sum + (row.volumes[i] ?? 0), 0)) : null,
  );
  return {
    intervals: intervals.map(({ start, end, label }) => ({
      start: time(start),
      end: time(end),
      label,
      complete: end <= until,
    })),
    rows: rows.map((row, i) => ({
      key: row.key,
      label: labels[i]!,
      volumes: row.volumes.map(shown),
      computed: row.computed.map(shown),
      basis: row.bases,
      since: row.since.map((at) => (at === null ? null : time(at))),
      unknown: row.unknown.map(minutes),
      total: millilitres(row.total),
    })),
    sums,
    total: millilitres(rows.reduce((sum, { total }) => sum + total, 0)),
  };
}

function shown(volume: number | null): number | null {
  return volume === null ? null : millilitres(volume);
}

/** Minutes to one decimal, rounded up, so that an unknown second is not shown as none. */
function minutes(milliseconds: number): number {
  return Math.ceil((milliseconds * 10) / MINUTE) / 10;
}
