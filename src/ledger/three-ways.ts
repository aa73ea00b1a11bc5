/**
 * Three ways to the same volume, per channel and per bag: rate × time, the running totals that were read,
 * and the levels of the bags. What each says, how far they are apart, what the figures rest on and why.
 */

import type { Conventions } from "../conventions/dated.js";
import type { Settings } from "../conventions/settings.js";
import { cellOf, cellsOf, type Dividing } from "../infusion/cells.js";
import { computedOf, type Delivery, givenBy, type Unattributed } from "../infusion/delivery.js";
import { minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import type { Outcome as Judged } from "../infusion/reading.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, latest, type Period } from "../time/instant.js";
import { shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { chainOf } from "./acknowledgements.js";
import { coordinates, written } from "./coordinates.js";
import { courseOf } from "./course.js";
import { volumeText } from "./flow-text.js";
import type { Asked, PeriodAsked } from "./ledger.js";
import { intervalsOf, periodOf } from "./period.js";
import { done, type Outcome } from "./refusal.js";
import type { Known } from "./replay.js";
import { asideText, levelText, restingText, spanText, totalsTogether } from "./three-ways-text.js";
import { type Window, windowOf } from "./window.js";

/** The three ways over a period. Figures are not rounded here, so that they can be held against each other. */
export function* threeWays(
  encounter: string,
  query: Asked & { readonly period: PeriodAsked },
  now: Instant,
): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const { known, until, facts } = resolved.done;
  const { stretches, settingsAt } = facts.conventions;
  const period = periodOf(query.period, stretches);
  if (period.refused) return period;
  const checked = intervalsOf(period.done, "whole", stretches);
  if (checked.refused) return checked;
  const { start, end } = period.done;
  const window = yield* windowOf(known, { from: start, to: end, until }, settingsAt);
  const within = { start, end: earliest(end, until) };
  const judged = yield* outcomesOf(known, window, within, facts.conventions);
  const dividing = { intervals: [period.done], anchors: [], until, admittedAt: facts.admittedAt };
  const charted = { ...window, unattributed: window.unattributed.filter(isIn(dividing)) };
  const { zone } = shiftAt(stretches, start);
  return done({
    zone,
    from: formatInstant(start, zone),
    to: formatInstant(end, zone),
    ...written(resolved.done),
    channels: channelsOf(charted).map((channel) => channelText(channel, charted, judged, within, zone)),
    bags: bagsOf(charted).map((bag) => bagText(bag, charted, within, settingsAt, zone)),
  });
}

/** What became of the readings in a period, and of those after it that say something about it. */
function* outcomesOf(
  known: Known,
  { anchors, collected }: Window,
  { end }: Period,
  { settingsAt }: Conventions,
): Inquiry<ReadonlyMap<string, Judged>> {
  const last = latest(end, ...anchors.map(({ to }) => to));
  const ahead =
    last > end ? (yield* courseOf(known, { start: end, end: last }, settingsAt)).collected : undefined;
  const readings = [...collected.readings, ...(ahead?.readings ?? [])];
  return new Map(readings.map(({ entry, outcome }) => [entry, outcome]));
}

/** Whether an amount that stands at a reading is charted in the period. */
function isIn(dividing: Dividing): (amount: Unattributed) => boolean {
  const cells = cellsOf(dividing);
  return ({ at }) => cellOf({ at, boundary: "ends" }, cells, dividing) !== undefined;
}

function channelsOf({ deliveries, unattributed, anchors, segments, collected }: Window): string[] {
  const all = [deliveries, unattributed, anchors, segments, collected.readings].flat();
  return [...new Set(all.map(({ channel }) => channel))].sort();
}

function bagsOf({ deliveries, unattributed, collected }: Window): string[] {
  const all = [deliveries, unattributed, collected.levels].flat();
  return [...new Set(all.flatMap(({ bag }) => bag ?? []))].sort();
}

function channelText(
  channel: string,
  window: Window,
  judged: ReadonlyMap<string, Judged>,
  period: Period,
  zone: string,
) {
  const own = <T extends { readonly channel: string }>(all: readonly T[]) =>
    all.filter((one) => one.channel === channel);
  const anchors = own(window.anchors).filter(({ kind }) => kind !== "level");
  const resting = new Set(anchors.map(({ entry }) => entry));
  const setAside = new Set(own(window.collected.readings).flatMap((one) => one.setsAside ?? []));
  return {
    channel,
    ...sums(own(window.deliveries), own(window.unattributed), period),
    ...restingText(restedOn(own(window.deliveries), own(window.unattributed), period), window.anchors),
    runningTotals: totalsTogether(anchors, zone),
    readings: [
      ...anchors.map((anchor) => spanText(anchor, judged.get(anchor.entry), zone)),
      ...[...own(window.collected.readings), ...own(window.segments)]
        .filter(({ entry }) => !resting.has(entry))
        .map((look) => asideText(look, setAside, zone)),
    ],
  };
}

function bagText(
  bag: string,
  window: Window,
  period: Period,
  settingsAt: (at: Instant) => Settings,
  zone: string,
) {
  const own = <T extends { readonly bag: string | null }>(all: readonly T[]) =>
    all.filter((one) => one.bag === bag);
  const [deliveries, unattributed] = [own(window.deliveries), own(window.unattributed)];
  return {
    bag,
    fluid: [...deliveries, ...unattributed].find(({ fluid }) => fluid !== null)?.fluid?.name ?? null,
    ...sums(deliveries, unattributed, period),
    ...restingText(restedOn(deliveries, unattributed, period), window.anchors),
    levels: own(window.collected.levels).map((level) => {
      const counts = window.anchors.some(({ entry }) => entry === level.entry);
      return levelText(level, counts, settingsAt(level.at), zone);
    }),
  };
}

/** The readings that what is charted in a period rests on, and null for what rests on rate × time. */
function restedOn(
  deliveries: readonly Delivery[],
  unattributed: readonly Unattributed[],
  { start, end }: Period,
): ReadonlySet<string | null> {
  const ran = deliveries.filter((one) => one.start < end && one.end > start);
  return new Set([...ran.map(({ anchor }) => anchor), ...unattributed.map(({ entry }) => entry)]);
}

/** What rate × time comes to in a period, and what the figures do. */
function sums(deliveries: readonly Delivery[], unattributed: readonly Unattributed[], period: Period) {
  const beside = unattributed.reduce((sum, { volume }) => plus(sum, volume), NOTHING);
  return {
    rateTime: volumeText(sumOf(deliveries, computedOf, period)),
    charted: volumeText(plus(sumOf(deliveries, givenBy, period), beside)),
  };
}

function sumOf(
  deliveries: readonly Delivery[],
  by: (delivery: Delivery, at: Instant) => Volume,
  { start, end }: Period,
): Volume {
  return deliveries.reduce((sum, one) => plus(sum, minus(by(one, end), by(one, start))), NOTHING);
}
