/** The span a chart is about, and what of a chart makes no sense: everything that is wrong, at once. */

import { type ChartFigure, isWithin, keyOf } from "../balance/charts/chart.js";
import { DAY } from "../time/calendar.js";
import { earliest, type Instant, later, latest, type Period } from "../time/instant.js";
import type { SpanText } from "../wire/charts.js";
import type { Fault, FaultCode } from "../wire/fault.js";
import { readInstant } from "../wire/instant.js";
import { AHEAD } from "./own-entries.js";
import { periodOf } from "./period.js";
import { beginningOf } from "./posted.js";
import type { StayFacts } from "./stay.js";

/** The longest span of one chart, and the most different intervals: a week by the hour, with its totals. */
const LONGEST = 31 * DAY;
const MOST_INTERVALS = 200;

type Judged<T> = { readonly value: T; readonly faults?: undefined } | { readonly faults: readonly Fault[] };

/** The span that a body names; null where it names none. */
export function spanNamed(body: SpanText, { conventions }: StayFacts): Judged<Period | null> {
  const { shift, day, from, to } = body;
  if (shift === undefined && day === undefined) {
    if (from === undefined || to === undefined) return { value: null };
    return { value: { start: readInstant(from), end: readInstant(to) } };
  }
  const asked = shift !== undefined ? { shift } : { day: day! };
  const period = periodOf(asked, conventions.stretches);
  if (!period.refused) return { value: period.done };
  const detail = `There is no ${shift === undefined ? `day "${day}"` : `shift "${shift}"`} where the patient was.`;
  return { faults: [fault(shift === undefined ? "#/day" : "#/shift", "unknown-span", detail)] };
}

/** The span of a chart, named or else from its first interval to its last; or what is wrong with its figures. */
export function chartSpan(
  body: SpanText,
  figures: readonly ChartFigure[],
  facts: StayFacts,
  now: Instant,
): Judged<Period> {
  const named = spanNamed(body, facts);
  if (named.faults) return named;
  const span = named.value ?? {
    start: earliest(...figures.map(({ start }) => start)),
    end: latest(...figures.map(({ end }) => end)),
  };
  const faults = [...spanFaults(span, facts, now), ...figureFaults(figures, span, now)];
  return faults.length > 0 ? { faults } : { value: span };
}

function spanFaults({ start, end }: Period, facts: StayFacts, now: Instant): Fault[] {
  if (end <= beginningOf(facts)) {
    return [fault("#", "too-early", "The chart ends more than 24 hours before the patient's admission.")];
  }
  if (start > later(now, AHEAD)) {
    return [fault("#", "too-far-ahead", "The chart is about a time of which nothing is known yet.")];
  }
  if (end - start > LONGEST) return [fault("#", "too-long", "A chart spans 31 days at most.")];
  return [];
}

function* figureFaults(figures: readonly ChartFigure[], span: Period, now: Instant): Generator<Fault> {
  const seen = new Map<string, number>();
  if (new Set(figures.map(({ start, end }) => `${start} ${end}`)).size > MOST_INTERVALS) {
    const detail = `A chart has ${MOST_INTERVALS} different intervals at most: send it in parts.`;
    yield fault("#/figures", "too-long", detail);
  }
  for (const [i, figure] of figures.entries()) {
    const { row, start, end, volume } = figure;
    const pointer = `#/figures/${i}`;
    const key = `${keyOf(row)} ${start} ${end}`;
    const first = seen.get(key);
    if (first === undefined) seen.set(key, i);
    else yield fault(pointer, "repeated-figure", `Item ${first} is the same row over the same interval.`);
    if (!isWithin(figure, span)) {
      yield fault(pointer, "inconsistent", "Its interval does not lie within the span the chart is about.");
    }
    if (volume !== null && start > later(now, AHEAD)) {
      const detail = "Its interval has not begun: leave the volume empty (null) until it has.";
      yield fault(`${pointer}/volume`, "too-far-ahead", detail);
    }
  }
}

export function fault(pointer: string, code: FaultCode, detail: string): Fault {
  return { pointer, code, detail };
}
