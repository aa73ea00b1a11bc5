/**
 * The order of entries at one instant. People chart by the minute, so ties are the rule, and the
 * order must not depend on who typed first: a reading charted at 19:00 counts before the therapy
 * change charted at 19:00. An entry's own `order` decides first, then the rank of what it is, then
 * the order of recording.
 */

import type { Entry, EntryKind, Placed } from "./entry.js";

/** Steps of ten leave room for what belongs just after a clear or a hanging. */
const RANK: Readonly<Record<EntryKind, number>> = {
  "bag-level-read": 10,
  "total-read": 10,
  "segment-read": 10,
  "chamber-read": 10,
  "intake-measured": 20,
  "output-measured": 20,
  "irrigant-instilled": 20,
  "weight-measured": 20,
  "secondary-ended": 30,
  "bolus-stopped": 30,
  "flow-stopped": 30,
  "away-ended": 30,
  "bag-taken-down": 40,
  "bag-adjusted": 40,
  "totals-reset": 50,
  "therapy-changed": 50,
  "chamber-emptied": 50,
  "channel-disconnected": 50,
  "line-removed": 50,
  "line-placed": 60,
  "channel-connected": 60,
  "bag-hung": 60,
  "chamber-placed": 60,
  "flow-paused": 70,
  "flow-resumed": 80,
  "flow-started": 90,
  "rate-changed": 90,
  "volume-to-infuse-set": 90,
  "secondary-started": 90,
  "bolus-started": 90,
  "delivery-lost": 100,
  "variance-settled": 100,
  "away-started": 100,
  admitted: 100,
  moved: 100,
  discharged: 100,
};

const JUST_AFTER_A_CLEAR = 55;
const JUST_AFTER_HANGING = 65;

/** Entries in the order in which they count; the input may be in any order and is left alone. */
export function inOrder(entries: readonly Placed[]): Placed[] {
  const byTime = [...entries].sort((a, b) => a.entry.at - b.entry.at);
  const ordered: Placed[] = [];
  for (let first = 0; first < byTime.length; ) {
    const at = byTime[first]!.entry.at;
    let next = first + 1;
    while (next < byTime.length && byTime[next]!.entry.at === at) next++;
    if (next === first + 1) ordered.push(byTime[first]!);
    else ordered.push(...atOneInstant(byTime.slice(first, next)));
    first = next;
  }
  return ordered;
}

function atOneInstant(tied: readonly Placed[]): Placed[] {
  const cleared = new Set<string>();
  const hung = new Set<string>();
  for (const { entry } of tied) {
    if (entry.kind === "totals-reset" || entry.kind === "therapy-changed") cleared.add(entry.channel);
    else if (entry.kind === "channel-disconnected") cleared.add(entry.channel);
    else if (entry.kind === "bag-hung") hung.add(entry.bag);
  }
  return tied
    .map((placed) => ({
      placed,
      order: placed.entry.order ?? 0,
      rank: rankOf(placed.entry, cleared, hung),
    }))
    .sort((a, b) => a.order - b.order || a.rank - b.rank || a.placed.sequence - b.placed.sequence)
    .map(({ placed }) => placed);
}

function rankOf(entry: Entry, cleared: ReadonlySet<string>, hung: ReadonlySet<string>): number {
  switch (entry.kind) {
    case "total-read": {
      const afterClear =
        entry.position === "after" ||
        (entry.position === undefined && entry.volume === 0 && cleared.has(entry.channel));
      return afterClear ? JUST_AFTER_A_CLEAR : RANK["total-read"];
    }
    case "bag-level-read":
    case "bag-adjusted":
      return hung.has(entry.bag) ? JUST_AFTER_HANGING : RANK[entry.kind];
    default:
      return RANK[entry.kind];
  }
}
