/** What the picture shows, in words: a sentence per flow, per span nobody knows, per amount and per mark. */

import type { Category, Entry, Interval } from "../api/shapes.js";
import { duration, together } from "../words/numbers.js";
import type { Speech } from "../words/speech.js";
import { clock, clockAmong } from "../words/wall.js";
import type { Block } from "./amounts.js";
import type { DrawnFlow, Gap } from "./lanes.js";
import type { Mark } from "./marks.js";

/** What says sentences about one shift. */
export interface Telling {
  readonly speech: Speech;
  readonly intervals: readonly Interval[];
}

/** "07:10 to 09:30: primary, Sodium chloride 0.9 %, 75 mL/h, 175 mL". */
export function flowSentence({ source }: DrawnFlow, { speech, intervals }: Telling): string {
  const { words, rate, inTenths } = speech;
  const [from, to] = [clockAmong(source.start, intervals), clockAmong(source.end, intervals)];
  const fluid = source.fluid?.name ?? words.lines.unidentified;
  const speed = source.rate === null ? words.lines.rateUnknown : rate(source.rate);
  const role = words.roles[source.role];
  return together(words.picture.flow(from, to, role, fluid, speed, inTenths(source.delivered)));
}

/** "11:20 to 11:55: 35 min not known, because …". */
export function gapSentence({ source, start, end }: Gap, { speech, intervals }: Telling): string {
  const { words } = speech;
  const [from, to] = [clockAmong(source.start, intervals), clockAmong(source.end, intervals)];
  const reason = words.picture.reasons[source.reason];
  return together(words.picture.gap(from, to, duration(end - start), reason));
}

/** "12:00 to 13:00: Urine, 250 mL". */
export function amountSentence({ interval, category, volume }: Block, { speech }: Telling): string {
  const [from, to] = [clock(interval.start), clock(interval.end)];
  return speech.words.picture.amount(from, to, categoryName(category, speech), speech.volume(volume));
}

/** "05:10: Total written down, pump-1, Primary total, 412.5 mL". */
export function markSentence({ entry, late }: Mark, { speech, intervals }: Telling): string {
  const { words } = speech;
  const when = clockAmong(entry.at ?? "", intervals);
  const what = entrySentence(entry, speech);
  const recorded =
    late === null ? "" : `, ${words.picture.late(speech.clockSeenFrom(entry.recorded.at, entry.at ?? ""))}`;
  return together(`${when}: ${what}${recorded}`);
}

/** "Total written down, pump-1, Primary total, 412.5 mL": an entry without its time. */
export function entrySentence(entry: Entry, speech: Speech): string {
  const { words, volume, rate } = speech;
  const { total, channel, bag, category } = entry;
  const fluid = (entry.fluid as { name?: string } | undefined)?.name;
  const parts = [
    words.kinds[entry.kind] ?? entry.kind,
    channel ?? (fluid === undefined ? bag : undefined),
    isTotal(total) ? words.toWrite.totals[total] : undefined,
    fluid,
    isCategory(category, speech) ? words.categories[category] : undefined,
    numberIn(entry.rate, rate),
    numberIn(entry.volume, volume) ?? numberIn(entry.remaining, volume),
  ];
  return parts.filter((part) => typeof part === "string").join(", ");
}

/** What people call a category; null is fluid nobody identified. */
export function categoryName(category: Category | null, { words }: Speech): string {
  return words.categories[category ?? "unidentified"];
}

function numberIn(value: unknown, write: (value: number) => string): string | undefined {
  return typeof value === "number" ? write(value) : undefined;
}

function isTotal(value: unknown): value is "primary" | "secondary" | "combined" {
  return value === "primary" || value === "secondary" || value === "combined";
}

function isCategory(value: unknown, { words }: Speech): value is Category {
  return typeof value === "string" && value in words.categories;
}
