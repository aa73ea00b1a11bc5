/**
 * The ward's clock, worked out from its zone: the instants that a date and a clock time stand for. In the hour
 * that the clock shows twice there are two of them, in the one it leaves out there is none.
 */

import { moment } from "./wall.js";

const DAY = 86_400_000;
const MINUTE = 60_000;

const formats = new Map<string, Intl.DateTimeFormat>();

function formatFor(timeZone: string): Intl.DateTimeFormat {
  const known = formats.get(timeZone);
  if (known !== undefined) return known;
  const format = new Intl.DateTimeFormat("en-US", {
    timeZone,
    hourCycle: "h23",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
  });
  formats.set(timeZone, format);
  return format;
}

/** How far the clock of a zone is ahead of UTC at an instant, in ms. */
function aheadAt(at: number, zone: string): number {
  const parts = new Map(
    formatFor(zone)
      .formatToParts(at)
      .map(({ type, value }) => [type, Number(value)]),
  );
  const [year = 0, month = 1, day, hour, minute, second] = (
    ["year", "month", "day", "hour", "minute", "second"] as const
  ).map((type) => parts.get(type));
  return Date.UTC(year, month - 1, day, hour, minute, second) - Math.floor(at / 1000) * 1000;
}

/** An instant as the ward's clock shows it, to the second: "2026-03-04T05:10:00-06:00". */
export function writtenIn(zone: string, at: number): string {
  const ahead = aheadAt(at, zone);
  const wall = new Date(at + ahead).toISOString().slice(0, 19);
  const minutes = Math.abs(ahead) / MINUTE;
  const two = (value: number) => String(Math.floor(value)).padStart(2, "0");
  return `${wall}${ahead < 0 ? "-" : "+"}${two(minutes / 60)}:${two(minutes % 60)}`;
}

/** The instants at which the clock of a zone shows a date ("2026-11-01") and time ("01:30"): none, one, or two. */
export function instantsOf(zone: string, date: string, time: string): string[] {
  const asIfUtc = Date.parse(`${date}T${time}:00Z`);
  const offsets = new Set([aheadAt(asIfUtc - DAY, zone), aheadAt(asIfUtc + DAY, zone)]);
  return [...offsets]
    .map((ahead) => asIfUtc - ahead)
    .filter((at) => at + aheadAt(at, zone) === asIfUtc)
    .sort((a, b) => a - b)
    .map((at) => writtenIn(zone, at));
}

/** The same of a wall-clock time as an input of a date and time has it ("2026-03-04T05:10"); none where it is no time. */
export function instantsAt(zone: string, wall: string): string[] {
  const [, date, time] = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})$/.exec(wall) ?? [];
  if (date === undefined || time === undefined || Number.isNaN(Date.parse(`${wall}:00Z`))) return [];
  return instantsOf(zone, date, time);
}

/** What the clock of a zone shows at an instant, to the minute: "2026-03-04T05:10". */
export function wallAt(zone: string, at: number): string {
  return writtenIn(zone, at).slice(0, 16);
}

/** Whether the clock shows the time of an instant twice on that day. */
export function isShownTwice(zone: string, instant: string): boolean {
  return instantsOf(zone, instant.slice(0, 10), instant.slice(11, 16)).length > 1;
}

/** The dates from that of one instant to that of another, the latest first. */
export function datesBetween(zone: string, from: string, to: string): string[] {
  const [first, last] = [
    writtenIn(zone, moment(from)).slice(0, 10),
    writtenIn(zone, moment(to)).slice(0, 10),
  ];
  const dates: string[] = [];
  for (let at = Date.parse(`${last}T00:00:00Z`); at >= Date.parse(`${first}T00:00:00Z`); at -= DAY) {
    dates.push(new Date(at).toISOString().slice(0, 10));
  }
  return dates;
}
