/** Time away from the unit: what is charted of it stands outside the hours. */

import type { Placed } from "../infusion/entry.js";
import type { Instant } from "../time/instant.js";

export interface AwaySpan {
  /** The entry that began it. */
  readonly entry: string;
  readonly place: string;
  readonly start: Instant;
  /** Null while it lasts. */
  readonly end: Instant | null;
}

/**
 * The time away in which each entry was charted, by the entry's id. Entries stand in the order in which they
 * count, so that an amount at the very minute of leaving was still charted here, and one at that of the return
 * there.
 */
export function awayByEntry(entries: readonly Placed[]): ReadonlyMap<string, AwaySpan> {
  const spans = new Map<string, AwaySpan>();
  let since: Placed | null = null;
  let meanwhile: string[] = [];
  const close = (end: Instant | null) => {
    if (since?.entry.kind !== "away-started") return;
    const { place, at: start } = since.entry;
    const span = { entry: since.id, place, start, end };
    for (const id of meanwhile) spans.set(id, span);
    since = null;
    meanwhile = [];
  };
  for (const placed of entries) {
    const { kind, at } = placed.entry;
    if (kind === "away-ended" || kind === "discharged") close(at);
    else if (kind === "away-started") since ??= placed;
    else if (since !== null) meanwhile.push(placed.id);
  }
  close(null);
  return spans;
}
