/**
 * Three ways to the same volume, per channel and per bag: rate × time, the running totals that were read,
 * and the levels of the bags. What each says, how far they are apart, what the figures rest on and why.
 */

import type { Settings } from "../conventions/settings.js";
import type { Anchor } from "../infusion/anchor.js";
import { type Delivery, givenBy } from "../infusion/delivery.js";
import type { LevelJudged, TotalJudged } from "../infusion/evidence.js";
import { greater, minus, NOTHING, percentOf, plus, type Volume, volumeOf } from "../infusion/quantity.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, type Period } from "../time/instant.js";
import { shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { chainOf } from "./acknowledgements.js";
import { coordinates, written } from "./coordinates.js";
import { volumeText } from "./flow-text.js";
import type { Asked, PeriodAsked } from "./ledger.js";
import { intervalsOf, periodOf } from "./period.js";
import { done, type Outcome } from "./refusal.js";
import { type Window, windowOf } from "./window.js";

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
  const window = yield* windowOf(known, { from: start, to: end, until }, { settingsAt });
  const { zone } = shiftAt(stretches, start);
  const within = { start, end: earliest(end, until) };
  return done({
    zone,
    from: formatInstant(start, zone),
    to: formatInstant(end, zone),
    ...written(resolved.done),
    channels: keysOf(window.deliveries, window.collected.readings).map((channel) =>
      channelText(channel, window, within, zone),
    ),
    bags: bagsOf(window).map((bag) => bagText(bag, window, within, settingsAt, zone)),
  });
}

function keysOf(...of: readonly (readonly { readonly channel: string }[])[]): string[] {
  return [...new Set(of.flat().map(({ channel }) => channel))].sort();
}

function bagsOf({ deliveries, collected }: Window): string[] {
  const flowed = deliveries.flatMap(({ bag }) => (bag === null ? [] : [bag]));
  return [...new Set([...flowed, ...collected.levels.map(({ bag }) => bag)])].sort();
}

function channelText(channel: string, window: Window, period: Period, zone: string) {
  const own = window.deliveries.filter((one) => one.channel === channel);
  const extra = window.unattributed
    .filter((one) => one.channel === channel && period.start < one.at)
    .reduce((sum, { volume }) => plus(sum, volume), NOTHING);
  return {
    channel,
    rateTime: volumeText(sumOf(own, period, "computed")),
    charted: volumeText(plus(sumOf(own, period, "given"), extra)),
    readings: [
      ...window.anchors.filter((one) => one.channel === channel && one.kind !== "level").map(spanOf(zone)),
      ...window.collected.readings
        .filter((one) => one.channel === channel && !anchors(one, window.anchors))
        .map((reading) => asideText(reading, zone)),
    ],
  };
}

/** What a reading, and rate × time, say of one span; the figures rest on the reading where it counts. */
function spanOf(zone: string) {
  return (anchor: Anchor) => ({
    reading: anchor.entry,
    total: anchor.total,
    start: formatInstant(anchor.from, zone),
    end: formatInstant(anchor.to, zone),
    rateTime: anchor.computed === null ? null : volumeText(anchor.computed),
    read: anchor.delivered === null ? null : volumeText(anchor.delivered),
    difference:
      anchor.delivered === null || anchor.computed === null
        ? null
        : volumeText(minus(anchor.delivered, anchor.computed)),
    restsOn: anchor.delivered === null ? ("rate-time" as const) : ("reading" as const),
    why: whyAnchored(anchor),
  });
}

function whyAnchored({ delivered, basis, kind }: Anchor): string {
  if (delivered === null) return "It is lower than before, so nobody knows what was delivered in between.";
  if (kind === "segment") return "The device counted this span by itself.";
  return basis === "disputed"
    ? "It disagrees and was confirmed: the device comes first, until an entry explains it."
    : "It agrees within the tolerance, or somebody decided that it counts.";
}

function anchors({ entry }: TotalJudged, all: readonly Anchor[]): boolean {
  return all.some((anchor) => anchor.entry === entry);
}

/** A reading that no figure rests on. */
function asideText(reading: TotalJudged, zone: string) {
  const { entry, total, over, at, comparison, outcome, checkOnly } = reading;
  const { increment, computed } = comparison;
  return {
    reading: entry,
    total,
    start: formatInstant(over.from, zone),
    end: formatInstant(at, zone),
    rateTime: volumeText(computed),
    read: volumeText(increment),
    difference: volumeText(minus(increment, computed)),
    restsOn: "rate-time" as const,
    why: checkOnly
      ? "It is the sum of totals the channel keeps apart: a check."
      : outcome === "waits" || outcome === "follows"
        ? "It disagrees, and waits for somebody to decide."
        : outcome === "not-used"
          ? "Somebody decided that the computed volume counts."
          : "A later reading shows it to have been wrong.",
  };
}

function bagText(
  bag: string,
  window: Window,
  period: Period,
  settingsAt: (at: Instant) => Settings,
  zone: string,
) {
  const own = window.deliveries.filter((one) => one.bag === bag);
  const levels = window.collected.levels.filter((one) => one.bag === bag);
  return {
    bag,
    fluid: own.find(({ fluid }) => fluid !== null)?.fluid?.name ?? null,
    rateTime: volumeText(sumOf(own, period, "computed")),
    charted: volumeText(sumOf(own, period, "given")),
    levels: levels.map((level) => levelText(level, settingsAt(level.at), zone)),
  };
}

/** What a level says was taken out of a bag since it was last known what it held. */
function levelText(level: LevelJudged, settings: Settings, zone: string) {
  const { entry, at, method, over, expected, anchors, label } = level;
  const byLevel = plus(over.since, minus(expected, level.level));
  const difference = minus(byLevel, over.since);
  const tolerance = toleranceOf(method, label, settings);
  const agrees = (difference < NOTHING ? minus(NOTHING, difference) : difference) <= tolerance;
  return {
    entry,
    method,
    start: formatInstant(over.from, zone),
    end: formatInstant(at, zone),
    holds: volumeText(level.level),
    rateTime: volumeText(over.since),
    byLevel: volumeText(byLevel),
    difference: volumeText(difference),
    agrees,
    restsOn: anchors ? ("level" as const) : ("rate-time" as const),
    why: anchors
      ? "A gravity set counts nothing: the level is what was delivered."
      : agrees
        ? "A level is a check here, and it agrees."
        : "A level is a check here: it disagrees, and moves no figure.",
  };
}

/** How far a level may be off: a share of the label by how it was told, an estimate no better than a scale. */
function toleranceOf(
  method: LevelJudged["method"],
  label: Volume,
  { levelTolerance, unaccountedAbove }: Settings,
): Volume {
  const share = method === "weighed" ? levelTolerance.weighed : levelTolerance.scale;
  const least = greater(volumeOf(unaccountedAbove.volume), percentOf(label, unaccountedAbove.percent));
  return greater(least, percentOf(label, share));
}

function sumOf(deliveries: readonly Delivery[], { start, end }: Period, what: "computed" | "given"): Volume {
  return deliveries.reduce((sum, delivery) => {
    const scaled = what === "given" ? delivery : { ...delivery, scale: null, volume: delivery.computed };
    return plus(sum, minus(givenBy(scaled, end), givenBy(scaled, start)));
  }, NOTHING);
}
