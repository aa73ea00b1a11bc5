/**
 * Which reports count, and in which order, as the specification puts it: by time, at one instant by
 * `order`, then by the ten ranks, then by recording; what a person and a device both report counts once.
 */

import type { Happening, Report } from "./ward.js";

const RANKS: readonly (readonly string[])[] = [
  ["bag-level-read", "total-read", "segment-read", "chamber-read"],
  ["intake-measured", "output-measured", "irrigant-instilled", "weight-measured"],
  ["secondary-ended", "bolus-stopped", "flow-stopped", "away-started"],
  ["bag-taken-down", "bag-adjusted"],
  ["totals-reset", "therapy-changed", "chamber-emptied", "channel-disconnected", "line-removed"],
  ["line-placed", "channel-connected", "bag-hung", "chamber-placed"],
  ["flow-paused"],
  ["flow-resumed"],
  ["flow-started", "rate-changed", "volume-to-infuse-set", "secondary-started", "bolus-started"],
];
const [THE_REST, A_CLEAR, A_HANGING, A_START] = [10, 5, 6, 9];

export function inTurn(reports: readonly Report[]): Report[] {
  return [...reports].sort(
    (a, b) =>
      a.entry.at - b.entry.at ||
      (a.entry.order ?? 0) - (b.entry.order ?? 0) ||
      rank(a.entry, reports) - rank(b.entry, reports) ||
      a.sequence - b.sequence,
  );
}

/** The rank of an entry among all that happened at its instant; halves come just after a clear or a hanging. */
export function rank(entry: Happening, all: readonly Report[]): number {
  const also = (kinds: readonly string[], same: "channel" | "bag"): boolean =>
    all.some(
      ({ entry: other }) =>
        other.at === entry.at && kinds.includes(other.kind) && other[same] === entry[same],
    );
  if (entry.kind === "total-read") {
    const after = entry.position === "after" || (entry.position === undefined && entry.volume === 0);
    if (after && entry.total === "secondary" && also(["secondary-started"], "channel")) return A_START + 0.5;
    if (after && also(["channel-connected"], "channel")) return A_HANGING + 0.5;
    const cleared = also(["totals-reset", "therapy-changed", "channel-disconnected"], "channel");
    if (entry.position === "after" || (after && cleared)) return A_CLEAR + 0.5;
  }
  if ((entry.kind === "bag-level-read" || entry.kind === "bag-adjusted") && also(["bag-hung"], "bag"))
    return A_HANGING + 0.5;
  const index = RANKS.findIndex((kinds) => kinds.includes(entry.kind));
  return index === -1 ? THE_REST : index + 1;
}

const THREE_MINUTES = 180_000;

/** Leaves out the later report of one event by both a person and a device: same channel, kind and value. */
export function countedOnce(ordered: readonly Report[]): Report[] {
  const unmatched: Report[] = [];
  return ordered.filter((report) => {
    const twin = unmatched.findIndex((earlier) => sameEvent(earlier, report));
    if (twin >= 0) {
      unmatched.splice(twin, 1);
      return false;
    }
    unmatched.push(report);
    return true;
  });
}

function sameEvent(earlier: Report, report: Report): boolean {
  return (
    report.entry.channel !== undefined &&
    earlier.source !== report.source &&
    report.entry.at - earlier.entry.at <= THREE_MINUTES &&
    saidBy(earlier.entry) === saidBy(report.entry)
  );
}

/** Channel, kind and what a report of that kind is first about: the bag, the line, else the volume or the rate. */
function saidBy(entry: Happening): string {
  const { bag, line, role, total, rate, volume, volumeToInfuse } = entry;
  const totals = entry.totals === undefined ? undefined : [entry.totals].flat().sort();
  const about =
    entry.kind === "bolus-started" ? [volume] : [role, total, totals, rate, volume, volumeToInfuse];
  if (entry.kind === "flow-started" || entry.kind === "secondary-started")
    about.splice(0, about.length, rate);
  return JSON.stringify([entry.kind, entry.channel, ...(bag !== undefined ? [bag] : [line, ...about])]);
}
