/**
 * The order of entries at one instant. People chart by the minute, so ties are the rule, and the
 * order must not depend on who typed first: a reading charted at 19:00 counts before the therapy
 * change charted at 19:00. An entry's own `order` decides first, then the rank of what it is, then
 * the order of recording.
 */

import type { Entry, EntryKind, Placed, TotalRead } from "./entry.js";

/**
 * Steps of ten leave room for what belongs just after a clear or a hanging. Of what is placed, lines come
 * before the channels on them and channels before the bags on those.
 */
const RANK: Readonly<Record<EntryKind, number>> = {
  admitted: 0,
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
  "away-started": 30,
  "bag-taken-down": 40,
  "bag-adjusted": 40,
  "totals-reset": 50,
  "therapy-changed": 50,
  "chamber-emptied": 50,
  "channel-disconnected": 50,
  "line-removed": 50,
  "line-placed": 60,
  "channel-connected": 61,
  "bag-hung": 62,
  "chamber-placed": 62,
  "flow-paused": 70,
  "flow-resumed": 80,
  "flow-started": 90,
  "rate-changed": 90,
  "volume-to-infuse-set": 90,
  "secondary-started": 90,
  "bolus-started": 90,
  "delivery-lost": 100,
  "variance-settled": 100,
  "away-ended": 100,
  moved: 100,
  discharged: 100,
};

const JUST_AFTER_A_CLEAR = 55;
const JUST_AFTER_HANGING = 65;
const JUST_AFTER_CONNECTING = 65;
const JUST_AFTER_STARTING = 95;

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
  const entries = tied.map(({ entry }) => entry);
  return tied
    .map((placed) => ({ placed, order: placed.entry.order ?? 0, rank: rankAmong(placed.entry, entries) }))
    .sort((a, b) => a.order - b.order || a.rank - b.rank || a.placed.sequence - b.placed.sequence)
    .map(({ placed }) => placed);
}

function rankAmong(entry: Entry, others: readonly Entry[]): number {
  switch (entry.kind) {
    case "total-read": {
      // A total of 0 read where it was cleared was read afterwards, unless it says otherwise.
      const after = entry.position === "after" || (entry.position === undefined && entry.volume === 0);
      const ranks = after ? others.map((other) => rankAfterClear(other, entry)) : [];
      const least = entry.position === "after" ? JUST_AFTER_A_CLEAR : RANK["total-read"];
      return Math.max(least, ...ranks);
    }
    case "bag-level-read":
    case "bag-adjusted": {
      const hung = others.some((other) => other.kind === "bag-hung" && other.bag === entry.bag);
      return hung ? JUST_AFTER_HANGING : RANK[entry.kind];
    }
    default:
      return RANK[entry.kind];
  }
}

/** Where a reading belongs that was taken after another entry cleared its total; 0 if that clears nothing of it. */
function rankAfterClear(other: Entry, { channel, total }: TotalRead): number {
  if (!("channel" in other) || other.channel !== channel) return 0;
  switch (other.kind) {
    case "totals-reset":
    case "therapy-changed":
    case "channel-disconnected":
      return JUST_AFTER_A_CLEAR;
    case "channel-connected":
      return JUST_AFTER_CONNECTING;
    case "secondary-started":
      return total === "secondary" ? JUST_AFTER_STARTING : 0;
    default:
      return 0;
  }
}
