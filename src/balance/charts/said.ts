/** How the sentences name rows, portions and times. */

import { earliest, latest } from "../../time/instant.js";
import type { ChartWords, LedgerItem, RowName } from "./chart.js";
import type { Figure } from "./figure.js";

export function saidRow(row: RowName): string {
  if ("sum" in row) return row.sum === "net" ? "the net balance" : `total ${row.sum}`;
  if ("category" in row) return row.category === null ? UNIDENTIFIED : plain(row.category);
  return "line" in row ? `line ${row.line}` : row.item;
}

const UNIDENTIFIED = "unidentified fluid";

/** Such as "tea, coffee or soup". */
export function listed(names: readonly string[], joined: "and" | "or"): string {
  const last = names.at(-1) ?? "";
  return names.length < 2 ? last : `${names.slice(0, -1).join(", ")} ${joined} ${last}`;
}

/** Such as "oral, 09:00 to 10:00". */
export function saidFigure({ row, start, end }: Pick<Figure, "row" | "start" | "end">, words: ChartWords) {
  return `${saidRow(row)}, ${saidSpan({ start, end }, words)}`;
}

export function saidSpan({ start, end }: Pick<Figure, "start" | "end">, words: ChartWords): string {
  return `${words.time(start)} to ${words.time(end)}`;
}

/** Such as "240 mL of tea at 09:10", or "75 mL of iv fluid on pump-1, 09:00 to 10:00". */
export function saidItems(items: readonly LedgerItem[], words: ChartWords): string {
  const volume = words.volume(items.reduce((sum, item) => sum + item.volume, 0));
  return `${volume} of ${named(items)}${when(items, words)}`;
}

/** What items have in common, as people call it. */
export function named(items: readonly LedgerItem[]): string {
  const what =
    common(items, ({ item }) => item) ?? roleOf(items) ?? common(items, ({ category }) => category);
  const where = common(items, ({ channel }) => channel ?? null) ?? common(items, ({ line }) => line);
  const unknown = items.every(({ category }) => category === null) ? UNIDENTIFIED : items[0]!.direction;
  const bag = common(items, ({ bag }) => bag ?? null);
  return `${plain(what ?? unknown)}${bag === null ? "" : ` from ${bag}`}${where === null ? "" : ` on ${where}`}`;
}

function roleOf(items: readonly LedgerItem[]): string | null {
  const role = common(items, ({ role }) => role ?? null);
  if (role === null || role === "primary") return null;
  return role === "keep-open" ? "keep-open flow" : `${role} infusion`;
}

function when(items: readonly LedgerItem[], words: ChartWords): string {
  const [only] = items;
  if (items.length === 1 && only?.channel === undefined) return ` at ${words.time(only!.at)}`;
  const start = earliest(...items.map((item) => item.start));
  const end = latest(...items.map((item) => item.end));
  return `, ${saidSpan({ start, end }, words)}`;
}

function common(items: readonly LedgerItem[], of: (item: LedgerItem) => string | null): string | null {
  const [first, ...more] = items.map(of);
  return first !== null && first !== undefined && more.every((other) => other === first) ? first : null;
}

function plain(key: string): string {
  return key.replaceAll("-", " ");
}
