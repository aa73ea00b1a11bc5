/**
 * The ledger's side of a chart, made of the postings that the balance sums up: one contribution per amount, and
 * one per interval for what a bag gave under one role. So a chart copied from the balance never differs.
 */

import type { Step } from "../../conventions/settings.js";
import type { Microlitres } from "../../infusion/entry.js";
import { shownAs, type Volume } from "../../infusion/quantity.js";
import { type Instant, latest, type Period } from "../../time/instant.js";
import { isCertain } from "../certainty.js";
import type { Outside, Posting } from "../posting.js";
import type { LedgerItem } from "./chart.js";
import type { Doubt } from "./doubt.js";

/** What a counter or a chamber was read as. */
export interface Reading {
  readonly entry: string;
  readonly volume: Volume;
}

/** What is known of where contributions came from. */
export interface Sources {
  /** What a channel's running total was last read as in an interval. */
  lastRead(channel: string, total: string, within: Period): Reading | undefined;
  /** What a chamber was read as by an entry, which an output follows from. */
  chamberRead(entry: string): Reading | undefined;
  /** What a bag is labelled with. */
  labelOf(bag: string): Microlitres | undefined;
  /** What volumes shown at an instant are rounded to. */
  stepAt(at: Instant): Step;
}

/** The contributions to each of the intervals; what stands outside the hours says so, and counts in none. */
export function contributionsOf(
  postings: readonly Posting[],
  intervals: readonly Period[],
  sources: Sources,
): LedgerItem[] {
  const parts = new Map<string, Posting[]>();
  const items: LedgerItem[] = [];
  for (const posting of postings) {
    const { interval, outside, origin, shown } = posting;
    if (interval === null || (shown === 0 && origin.entries.length === 0)) continue;
    const { role, line } = posting.part;
    if (role === null || outside !== null) {
      const item = itemOf([posting], intervals[interval]!, sources);
      items.push(outside === null ? item : { ...item, standsIn: rowOf(outside) });
      continue;
    }
    const key = JSON.stringify([origin.channel, line, origin.bag, role, interval, posting.counts]);
    const part = parts.get(key);
    if (part === undefined) parts.set(key, [posting]);
    else part.push(posting);
  }
  for (const part of parts.values()) items.push(itemOf(part, intervals[part[0]!.interval!]!, sources));
  return items;
}

/** The row that something outside the hours stands in, in words. */
function rowOf(outside: Outside): string {
  return outside === "before-admission"
    ? "the row before admission"
    : `the row for the time away (${outside.place})`;
}

/** What of the postings within the hours may be more or less than it says. */
export function doubtsOf(
  postings: readonly Posting[],
  intervals: readonly Period[],
  sources: Sources,
): Doubt[] {
  return postings.flatMap((posting) => {
    const { interval, outside, certainty } = posting;
    if (interval === null || outside !== null || isCertain(certainty)) return [];
    return [{ item: itemOf([posting], intervals[interval]!, sources), certainty }];
  });
}

/** One contribution, of the pieces that a part of the balance has in one interval. */
function itemOf(pieces: readonly Posting[], { start, end }: Period, sources: Sources): LedgerItem {
  const { side, category, part, origin, counts } = pieces[0]!;
  const { channel, total, bag } = origin;
  const reading =
    channel === null
      ? pieces.map((one) => sources.chamberRead(one.origin.entries[0] ?? "")).find((one) => one !== undefined)
      : total === null
        ? undefined
        : sources.lastRead(channel, total, { start, end });
  const label = bag === null ? undefined : sources.labelOf(bag);
  const step = sources.stepAt(origin.at);
  return {
    entries: [...new Set(pieces.flatMap((one) => one.origin.entries))],
    direction: side,
    category,
    line: part.line,
    item: part.item,
    site: part.site,
    at: latest(...pieces.map((one) => one.origin.at)),
    start,
    end,
    volume: pieces.reduce((sum, { shown }) => sum + shown, 0),
    ...(part.role !== null && { role: part.role }),
    ...(channel !== null && { channel, bag }),
    ...(label !== undefined && { label }),
    ...(origin.whole !== null && { whole: shownAs(origin.whole, step) }),
    ...(reading !== undefined && { reading: shownAs(reading.volume, step), readBy: reading.entry }),
    ...((part.role === "keep-open" || category === "iv-flush") && { carrier: true }),
    ...(!counts && { apart: true }),
  };
}
