/**
 * Wall-clock times read off the text of an instant. The API answers in the unit's own offset, so the
 * clock on the ward is what the text says; the clock of whoever looks at the page plays no part.
 */

/** Milliseconds since 1970, for distances along the axis. */
export function moment(instant: string): number {
  return Date.parse(instant);
}

/** "2026-03-04T05:10:00-06:00" → "05:10". */
export function clock(instant: string): string {
  return instant.slice(11, 16);
}

/** "2026-03-04T05:10:00-06:00" → "2026-03-04". */
export function dateOf(instant: string): string {
  return instant.slice(0, 10);
}

/** "2026-03-04T05:10:00-06:00" → "-06:00"; "Z" is "+00:00". */
export function offsetOf(instant: string): string {
  return /[+-]\d\d:\d\d$/.exec(instant)?.[0] ?? "+00:00";
}

/** "2026-03-04" → "Wednesday, March 4", as the locale says it. */
export function dayName(date: string, locale: string): string {
  const format = { timeZone: "UTC", weekday: "long", day: "numeric", month: "long" } as const;
  return new Intl.DateTimeFormat(locale, format).format(new Date(`${date}T00:00:00Z`));
}

/**
 * The clock time, with its offset inside an hour that the clock shows twice; the labels of the
 * intervals say which ("01:00–02:00 -05:00").
 */
export function clockAmong(
  instant: string,
  intervals: readonly { start: string; end: string; label: string }[],
): string {
  const at = moment(instant);
  const hour = intervals.find(({ start, end }) => moment(start) <= at && at < moment(end));
  return hour?.label.includes(" ") ? `${clock(instant)} (${offsetOf(instant)})` : clock(instant);
}
