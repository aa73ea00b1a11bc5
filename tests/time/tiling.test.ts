/**
 * Shifts and hours against a scan that knows nothing of how they are made: it reads the clock of a zone
 * every minute (Intl) and starts a shift when the clock passes its time for the first time.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hoursIn } from "../../src/time/hours.js";
import { type Instant, instant, MINUTE, type Period } from "../../src/time/instant.js";
import { checkShifts, type ShiftPattern } from "../../src/time/shift-pattern.js";
import { type ShiftSpan, type Stretch, shiftsIn } from "../../src/time/shifts.js";
import { at, ward } from "./wards.js";

const DAY = 1_440 * MINUTE;

const clockChanges = [
  ["America/Chicago", "2026-03-08"],
  ["America/Chicago", "2026-11-01"],
  ["Europe/London", "2026-03-29"],
  ["Europe/London", "2026-10-25"],
  ["Australia/Lord_Howe", "2026-04-05"],
  ["Australia/Lord_Howe", "2026-10-04"],
  // Kathmandu moved its clocks by a quarter of an hour, St John's once a year at one minute past midnight.
  ["Asia/Kathmandu", "1986-01-01"],
  ["America/St_Johns", "2006-10-29"],
  ["America/St_Johns", "2026-03-08"],
  ["America/Sao_Paulo", "2018-02-18"],
  ["Pacific/Apia", "2011-12-30"],
  ["UTC", "2026-03-08"],
] as const;

interface Minute {
  readonly start: Instant;
  /** What the clock shows, in milliseconds from 1970-01-01T00:00 on it. */
  readonly reading: number;
}

/** The clock of a zone at every minute of the four days around a date. */
function readClock(zone: string, date: string): Minute[] {
  const parts = {
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
  } as const;
  const clock = new Intl.DateTimeFormat("en-US", { timeZone: zone, hourCycle: "h23", ...parts });
  const first = at(`${date}T00:00:00Z`) - 2 * DAY;
  return Array.from({ length: (4 * DAY) / MINUTE }, (_, place) => {
    const start = instant(first + place * MINUTE);
    const shown = Object.fromEntries(
      clock.formatToParts(start).map(({ type, value }) => [type, Number(value)]),
    );
    const { year, month, day, hour, minute } = shown as Record<string, number>;
    return { start, reading: Date.UTC(year ?? 0, (month ?? 0) - 1, day, hour, minute) };
  });
}

const minutesInto = (text: string) => Number(text.slice(0, 2)) * 60 + Number(text.slice(3));

/** The shifts that start in the scan: when the clock first shows, or jumps over, the time of one. */
function scannedShifts(clock: readonly Minute[], patterns: readonly ShiftPattern[]) {
  const found: { start: Instant; date: string; name: string; day: number }[] = [];
  const dayStart = minutesInto(patterns[0]?.starts ?? "") * MINUTE;
  let furthest = clock[0]?.reading ?? 0;
  for (const { start, reading } of clock) {
    for (let shown = reading; shown > furthest; shown -= MINUTE) {
      const pattern = patterns.find(({ starts }) => minutesInto(starts) * MINUTE === shown % DAY);
      if (pattern === undefined) continue;
      const date = new Date(shown).toISOString().slice(0, 10);
      found.push({ start, date, name: pattern.name, day: Math.floor((shown - dayStart) / DAY) });
      break;
    }
    furthest = Math.max(furthest, reading);
  }
  return found.map((shift, place) => ({ ...shift, startsDay: shift.day !== found[place - 1]?.day }));
}

/** Where hours start in the scan: at a full hour, a jump of the clock, or the start of a shift. */
function scannedHours(clock: readonly Minute[], shiftStarts: ReadonlySet<Instant>): Instant[] {
  const starts = clock.filter(({ start, reading }, place) => {
    const before = clock[place - 1]?.reading ?? reading;
    return reading % (60 * MINUTE) === 0 || reading - before !== MINUTE || shiftStarts.has(start);
  });
  return starts.map(({ start }) => start);
}

/** Up to six shifts at any minutes of the day, any of them listed first. */
const anyShifts = fc
  .tuple(fc.uniqueArray(fc.nat(1_439), { minLength: 1, maxLength: 6 }), fc.nat(5))
  .map(([minutes, turn]): ShiftPattern[] => {
    const inOrder = minutes
      .sort((a, b) => a - b)
      .map((minute, place) => {
        const two = (part: number) => String(part).padStart(2, "0");
        return { name: `shift-${place}`, starts: `${two(Math.floor(minute / 60))}:${two(minute % 60)}` };
      });
    const first = turn % inOrder.length;
    return [...inOrder.slice(first), ...inOrder.slice(0, first)];
  });

describe.each(clockChanges)("in %s around %s", (zone, date) => {
  const clock = readClock(zone, date);

  it("shifts start when the clock first passes their time, and hours when it shows them", () => {
    fc.assert(
      fc.property(anyShifts, (shifts) => {
        const scanned = scannedShifts(clock, shifts);
        const whole = { start: scanned[0]?.start as Instant, end: scanned.at(-1)?.start as Instant };
        const spans = shiftsIn(ward(zone, shifts), whole);
        const seen = ({
          start,
          date,
          name,
          startsDay,
        }: Omit<ShiftSpan, "end" | "label" | "day" | "unit" | "zone">) =>
          `${startsDay ? "*" : ""}${date}/${name} from ${start}`;
        // The scan cannot know whether the first shift that it sees starts a day.
        expect(spans.slice(1).map(seen)).toEqual(scanned.slice(1, -1).map(seen));
        expect(spans.map(({ start }) => start)).toEqual(scanned.slice(0, -1).map(({ start }) => start));
        const hours = scannedHours(clock, new Set(scanned.map(({ start }) => start)));
        expect(hoursIn(ward(zone, shifts), whole).map(({ start }) => start)).toEqual(
          hours.filter((start) => whole.start <= start && start < whole.end),
        );
      }),
      { numRuns: 40 },
    );
  });

  it("an hour's label is what the clock shows, with the offset exactly where it shows a time twice", () => {
    const shown = new Map<number, number>();
    for (const { reading } of clock) shown.set(reading, (shown.get(reading) ?? 0) + 1);
    const span = { start: clock[300]?.start as Instant, end: clock.at(-300)?.start as Instant };
    for (const { start, end, label } of hoursIn(ward(zone, [{ name: "all", starts: "00:00" }]), span)) {
      const inside = clock.filter((minute) => start <= minute.start && minute.start < end);
      const text = (reading: number) => new Date(reading).toISOString().slice(11, 16);
      const [first, last] = [inside[0] as Minute, inside.at(-1) as Minute];
      expect(label.slice(0, 11)).toBe(`${text(first.reading)}–${text(last.reading + MINUTE)}`);
      expect(label.length > 11).toBe(inside.some(({ reading }) => shown.get(reading) === 2));
    }
  });
});

describe("whatever the wards, their shifts and the moves between them", () => {
  const zones = [
    "America/Chicago",
    "Europe/London",
    "Australia/Lord_Howe",
    "Pacific/Apia",
    "America/St_Johns",
  ];
  const start = at("2011-10-01T00:00:00Z");
  const anyInstant = fc.nat(DAY * 120).map((into) => instant(start + into));
  const anyPeriod = fc
    .tuple(anyInstant, fc.integer({ min: 1, max: 12 * DAY }))
    .map(([from, length]): Period => ({ start: from, end: instant(from + length) }));
  // Moves that follow closely on one another, in the days around the one that Apia left out, and others.
  const anyMove = fc.oneof(
    anyInstant,
    fc.nat(72).map((hour) => instant(at("2011-12-29T00:00:00Z") + hour * 60 * MINUTE)),
  );
  const anyStretch = fc.record({
    from: anyMove,
    unit: fc.constantFrom("ward-4", "ward-5"),
    zone: fc.constantFrom(...zones),
    shifts: anyShifts,
  });
  const anyStay = fc
    .array(anyStretch, { minLength: 1, maxLength: 4 })
    .map((stretches): Stretch[] => stretches.toSorted((a, b) => a.from - b.from));

  const tiles = (spans: readonly Period[]) =>
    spans.every(({ start, end }, place) => start < end && (place === 0 || spans[place - 1]?.end === start));

  it("shifts tile the time that the period overlaps, and days have rising dates", () => {
    fc.assert(
      fc.property(anyStay, anyPeriod, (stay, period) => {
        const shifts = shiftsIn(stay, period);
        expect(tiles(shifts)).toBe(true);
        expect(shifts[0]?.start).toBeLessThanOrEqual(period.start);
        expect(shifts[0]?.end).toBeGreaterThan(period.start);
        expect(shifts.at(-1)?.start).toBeLessThan(period.end);
        expect(shifts.at(-1)?.end).toBeGreaterThanOrEqual(period.end);
        for (const [place, shift] of shifts.slice(1).entries()) {
          expect(shift.startsDay).toBe(shift.day > (shifts[place]?.day ?? ""));
          expect(shift.startsDay).toBe(shift.day !== shifts[place]?.day);
        }
      }),
    );
  });

  it("a shift is the same from wherever it is looked at", () => {
    fc.assert(
      fc.property(anyStay, anyPeriod, (stay, period) => {
        for (const shift of shiftsIn(stay, period)) {
          expect(shiftsIn(stay, { start: instant(shift.end - 1), end: shift.end })).toEqual([shift]);
        }
      }),
    );
  });

  it("hours tile the period, and those of a shift make up the shift", () => {
    fc.assert(
      fc.property(anyStay, anyPeriod, (stay, period) => {
        const hours = hoursIn(stay, period);
        expect(tiles(hours)).toBe(true);
        expect([hours[0]?.start, hours.at(-1)?.end]).toEqual([period.start, period.end]);
        const shift = shiftsIn(stay, period)[0] as Period;
        const length = hoursIn(stay, shift).reduce((sum, { start, end }) => sum + end - start, 0);
        expect(length).toBe(shift.end - shift.start);
      }),
    );
  });

  it("any list that turns round the clock is a right list", () => {
    fc.assert(
      fc.property(anyShifts, (shifts) => {
        expect(checkShifts(shifts)).toEqual([]);
      }),
    );
  });
});
