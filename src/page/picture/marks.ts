/**
 * Marks on the axis for what people did and read: bags, totals written down, clears, and what was charted late,
 * at the time it happened and joined to when it was recorded. Pure; times in ms.
 */

import type { Entry } from "../api/shapes.js";
import { moment } from "../words/wall.js";

export type MarkKind = "bag" | "down" | "reading" | "clear" | "other";

export interface Mark {
  readonly kind: MarkKind;
  readonly entry: Entry;
  readonly at: number;
  /** When it was recorded, if that was late; null if it was not. */
  readonly late: number | null;
}

const KINDS: Partial<Record<Entry["kind"], MarkKind>> = {
  "bag-hung": "bag",
  "bag-taken-down": "down",
  "total-read": "reading",
  "bag-level-read": "reading",
  "segment-read": "reading",
  "chamber-read": "reading",
  "totals-reset": "clear",
  "therapy-changed": "clear",
};

/** The marks of entries; `lateAfter` is after how many ms something was charted late. */
export function marksOf(entries: readonly Entry[], lateAfter: number): Mark[] {
  return entries.flatMap((entry): Mark[] => {
    if (entry.at === undefined) return [];
    const [at, recorded] = [moment(entry.at), moment(entry.recorded.at)];
    const late = recorded - at > lateAfter ? recorded : null;
    const kind = KINDS[entry.kind];
    if (kind === undefined && late === null) return [];
    return [{ kind: kind ?? "other", entry, at, late }];
  });
}

/** The channel an entry is about; a bag's is where it hangs. */
export function channelOf(entry: Entry, hangings: readonly Entry[]): string | null {
  if (typeof entry.channel === "string") return entry.channel;
  const hung = hangings.findLast(
    ({ bag, at }) => bag === entry.bag && moment(at ?? "") <= moment(entry.at ?? ""),
  );
  return typeof hung?.channel === "string" && typeof entry.bag === "string" ? hung.channel : null;
}

/** The milliseconds of an ISO 8601 duration of days, hours, minutes and seconds, such as "PT2H". */
export function lateAfterOf(duration: string): number {
  const [, days, hours, minutes, seconds] =
    /^P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?(?:([\d.]+)S)?)?$/.exec(duration) ?? [];
  const [d, h, m, s] = [days, hours, minutes, seconds].map((part) => Number(part ?? 0));
  return (((d! * 24 + h!) * 60 + m!) * 60 + s!) * 1000;
}
