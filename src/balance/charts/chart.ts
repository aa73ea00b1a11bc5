/**
 * The two records that are compared: the figures a chart holds, and what the ledger's own figures are made of.
 *
 * Invariant: every contribution of the ledger lies in exactly one interval, so that a figure is a sum of whole
 * contributions. Volumes are whole microlitres and never negative; the side says what they count for.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { Instant } from "../../time/instant.js";

/** What a figure is charted under; an item is what was taken in, or the drain or tube that an output came by. */
export type RowName =
  /** Null for fluid that nobody identified. */
  | { readonly category: string | null }
  | { readonly line: string }
  | { readonly item: string }
  | { readonly sum: "intake" | "output" | "net" };

/** What the other record holds under a row, over a half-open span of time; null where it was left empty. */
export interface ChartFigure {
  readonly row: RowName;
  readonly start: Instant;
  readonly end: Instant;
  readonly volume: Microlitres | null;
}

/** One contribution to the ledger's figures, within one interval: an amount, or what one bag delivered by one role. */
export interface LedgerItem {
  readonly entries: readonly string[];
  readonly direction: "intake" | "output";
  /** Null where nobody identified the fluid. */
  readonly category: string | null;
  readonly line: string | null;
  readonly item: string | null;
  readonly site?: string | null;
  readonly role?: "primary" | "secondary" | "bolus" | "keep-open";
  readonly channel?: string;
  readonly bag?: string | null;
  /** Volume nobody thinks of as intake: flushes, keep-open flow, what a drug is carried in. */
  readonly carrier?: boolean;
  /** The time of an amount, or the end of the delivered part. */
  readonly at: Instant;
  /** The interval it counts in. */
  readonly start: Instant;
  readonly end: Instant;
  readonly volume: Microlitres;
  /** What its bag is labelled with. */
  readonly label?: Microlitres;
  /** The whole of it: ice before the fraction, output before what was returned or instilled is taken off. */
  readonly whole?: Microlitres;
  /** The running total or level that was read in its interval, not differenced; and the entry that says so. */
  readonly reading?: Microlitres;
  readonly readBy?: string;
  /** The unit does not have it inside the totals. */
  readonly apart?: boolean;
  /** Of what stands outside the hours: in which row, such as "the row before admission". */
  readonly standsIn?: string;
}

/** What a chart may name: the lines that were in place, and what was taken in, with the drains and tubes. */
export interface InUse {
  readonly lines: readonly string[];
  /** As they were charted; none twice, whatever its case. */
  readonly items: readonly string[];
}

/** What a stay had under each sum before a chart begins; the net may be of any sign. */
export type Carried = Readonly<Record<"intake" | "output" | "net", Microlitres>>;

/** The ledger's side of a comparison. Items before and after the chart's own span may be among them. */
export interface LedgerSide {
  readonly items: readonly LedgerItem[];
  /** What stands outside the hours, and counts in no figure of them. */
  readonly outside: readonly LedgerItem[];
  readonly inUse: InUse;
  /** Absent where nobody asked. */
  readonly carried?: Carried;
  /** What the ledger has under a row over a span, of what was charted there; 0 where it has nothing. */
  figure(row: RowName, start: Instant, end: Instant, charted: Microlitres): Microlitres;
}

/** How times and volumes are said where the patient was. */
export interface ChartWords {
  /** Such as "09:10". */
  time(at: Instant): string;
  /** Such as "240 mL". */
  volume(volume: Microlitres): string;
}

/** The ledger's side where its figures are nothing but the sums of its items; `lines` may have been in place empty. */
export function ledgerOf(all: readonly LedgerItem[], lines: Iterable<string> = []): LedgerSide {
  const items = all.filter(({ standsIn }) => standsIn === undefined);
  const rows = new Map<string, readonly LedgerItem[]>();
  const under = (row: RowName) => {
    const key = keyOf(row);
    const own = rows.get(key) ?? items.filter((item) => isUnder(row, item));
    rows.set(key, own);
    return own;
  };
  return {
    items,
    outside: all.filter(({ standsIn }) => standsIn !== undefined),
    inUse: {
      lines: [...new Set([...lines, ...all.flatMap(({ line }) => line ?? [])])],
      items: [...new Map(all.flatMap(namesOf).map((name) => [keyOf({ item: name }), name])).values()],
    },
    figure: (row, start, end, charted) => volumeUnder(row, meantBy(charted, row, { start, end }, under(row))),
  };
}

/**
 * Of what a row has in a span, the items that a charted volume is of: of those that may be meant the nearest. Where the
 * unit has part of the row inside the totals and part in none, the balance has two rows of that name: either of them,
 * or what both come to. A name that is both taken in and a drain's is one of them, and never both.
 */
export function meantBy(
  charted: Microlitres,
  row: RowName,
  span: { start: Instant; end: Instant },
  all: readonly LedgerItem[],
): readonly LedgerItem[] {
  const bySide = "item" in row ? parted(all, ({ direction }) => direction === "intake") : [all];
  const may = bySide
    .flatMap((some) => [some, ...parted(some, ({ apart }) => apart !== true)])
    .map((some) => some.filter((item) => isWithin(item, span)));
  const off = (some: readonly LedgerItem[]) => Math.abs(charted - volumeUnder(row, some));
  return may.reduce((best, some) => (off(some) < off(best) ? some : best));
}

/** Those that are something and those that are not; all where that parts nothing. */
function parted(all: readonly LedgerItem[], is: (item: LedgerItem) => boolean): (readonly LedgerItem[])[] {
  const those = all.filter(is);
  if (those.length === 0 || those.length === all.length) return [all];
  return [those, all.filter((item) => !is(item))];
}

function volumeUnder(row: RowName, items: readonly LedgerItem[]): Microlitres {
  return items.reduce((sum, item) => sum + countedIn(row, item), 0);
}

export function isWithin(inner: { start: Instant; end: Instant }, outer: { start: Instant; end: Instant }) {
  return outer.start <= inner.start && inner.end <= outer.end;
}

/** What an item counts under a row, in µL: its volume, negative for an output in the net, 0 under other rows. */
export function countedIn(row: RowName, item: LedgerItem): Microlitres {
  if (!isUnder(row, item)) return 0;
  return "sum" in row && row.sum === "net" && item.direction === "output" ? -item.volume : item.volume;
}

/** Whether an item belongs under a row at all; all do under the net, but for what the unit has in no total. */
export function isUnder(row: RowName, item: LedgerItem): boolean {
  if ("sum" in row) return item.apart !== true && (row.sum === "net" || row.sum === item.direction);
  if ("category" in row) return row.category === item.category;
  if ("line" in row) return row.line === item.line && item.direction === "intake";
  const named = row.item.trim().toLowerCase();
  return namesOf(item).some((name) => name.trim().toLowerCase() === named);
}

function namesOf({ item, site }: LedgerItem): string[] {
  return [item, site].filter((name) => typeof name === "string");
}

/** The row as a key: equal for equal rows. */
export function keyOf(row: RowName): string {
  if ("sum" in row) return `sum ${row.sum}`;
  if ("category" in row) return `category ${row.category ?? ""}`;
  if ("line" in row) return `line ${row.line}`;
  return `item ${row.item.trim().toLowerCase()}`;
}
