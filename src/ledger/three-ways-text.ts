/** What single readings and levels say beside rate × time, what the figures rest on, and why, as JSON. */

import type { Settings } from "../conventions/settings.js";
import type { Anchor } from "../infusion/anchor.js";
import type { LevelJudged, SegmentJudged, TotalJudged } from "../infusion/evidence.js";
import { levelTolerance, levelWorthALook } from "../infusion/level-tolerance.js";
import { isFarFromSure } from "../infusion/mark.js";
import { minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import type { Outcome } from "../infusion/reading.js";
import { earliest, latest } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { volumeText } from "./flow-text.js";

/** What a reading, and rate × time, say of one span; the figures rest on the reading where it counts. */
export function spanText(anchor: Anchor, outcome: Outcome | undefined, zone: string) {
  const { delivered, computed, shows } = anchor;
  return {
    reading: anchor.entry,
    total: anchor.total,
    start: formatInstant(anchor.from, zone),
    end: formatInstant(anchor.to, zone),
    shows: volumeText(shows),
    rateTime: volumeText(computed),
    read: delivered === null ? null : volumeText(delivered),
    difference: delivered === null ? null : volumeText(minus(delivered, computed)),
    restsOn: delivered === null ? ("rate-time" as const) : ("reading" as const),
    why: whyAnchored(anchor, outcome) + keptBeyond(anchor),
  };
}

function keptBeyond({ unplaced = NOTHING }: Anchor): string {
  if (unplaced === NOTHING) return "";
  return ` ${volumeText(unplaced)} mL more are signed, or counted by segments, and stay in the figures.`;
}

function whyAnchored({ delivered, basis, kind, metered }: Anchor, outcome: Outcome | undefined): string {
  if (delivered === null) return "It is lower than before, so nobody knows what was delivered in between.";
  if (basis === "disputed")
    return "It disagrees and was confirmed: the device comes first, until an entry explains it.";
  if (kind === "segment") return "The device counted this span by itself.";
  if (outcome === "settled") return "Somebody decided that it counts.";
  if (outcome === "disputed")
    return "It disagrees by nothing but what was decided about the device's segments.";
  return metered ? "A metered channel is told by its readings alone." : "It agrees within the tolerance.";
}

/** The running totals of a channel together, beside rate × time over the same spans; null where none counts. */
export function totalsTogether(anchors: readonly Anchor[], zone: string) {
  const counting = anchors.filter(({ kind, delivered }) => kind === "total" && delivered !== null);
  if (counting.length === 0) return null;
  const sum = (of: (anchor: Anchor) => Volume | null) =>
    counting.reduce((whole, one) => plus(whole, of(one) ?? NOTHING), NOTHING);
  const [read, rateTime] = [sum(({ delivered }) => delivered), sum(({ computed }) => computed)];
  return {
    start: formatInstant(earliest(...counting.map(({ from }) => from)), zone),
    end: formatInstant(latest(...counting.map(({ to }) => to)), zone),
    rateTime: volumeText(rateTime),
    read: volumeText(read),
    difference: volumeText(minus(read, rateTime)),
  };
}

/** What the figures of a channel or bag rest on: `on` holds readings and levels, and null for rate × time. */
export function restingText(on: ReadonlySet<string | null>, anchors: readonly Anchor[]) {
  if (on.size === 0) return { restsOn: null, why: "Nothing flowed." };
  // One that was lower than before says nothing of how much it was.
  const resting = anchors.filter(({ entry, delivered }) => delivered !== null && on.has(entry));
  if (resting.length === 0) {
    const why = "Nothing that was read counts for this time: rate × time is all there is.";
    return { restsOn: "rate-time" as const, why };
  }
  if (resting.length < on.size) {
    const why =
      "What was read says how much it was for a part of it; for the rest rate × time is all there is.";
    return { restsOn: "several" as const, why };
  }
  if (resting.every(({ kind }) => kind === "level")) {
    return { restsOn: "level" as const, why: "The levels of the bag say how much it was." };
  }
  return { restsOn: "reading" as const, why: "What was read says how much it was." };
}

/** A reading or segment that no figure rests on. */
export function asideText(look: TotalJudged | SegmentJudged, setAside: ReadonlySet<string>, zone: string) {
  const { entry, at, comparison, outcome, value } = look;
  const { increment, computed } = comparison;
  return {
    reading: entry,
    total: "total" in look ? look.total : null,
    start: formatInstant("over" in look ? look.over.from : look.start, zone),
    end: formatInstant(at, zone),
    shows: volumeText(value),
    rateTime: volumeText(computed),
    read: volumeText(increment),
    difference: volumeText(minus(increment, computed)),
    restsOn: "rate-time" as const,
    why:
      "checkOnly" in look && look.checkOnly
        ? "It is the sum of totals the channel keeps apart: a check."
        : outcome === "waits" || outcome === "follows"
          ? "It disagrees, and waits for somebody to decide."
          : outcome === "not-used"
            ? "Somebody decided that the computed volume counts."
            : outcome === "looked-again"
              ? "Another look at the same segment counts."
              : whyNot(look, setAside),
  };
}

/** Why a reading moves no figure though nobody decided against it. */
function whyNot(look: TotalJudged | SegmentJudged, setAside: ReadonlySet<string>): string {
  if (setAside.has(look.entry)) return "A later reading shows it to have been wrong.";
  if ("over" in look && isFarFromSure(look.over)) {
    return "Nobody knows when the total was cleared, so it agrees and says no more: the next one counts from here.";
  }
  const after = "was recorded after this time was signed: what was signed stays";
  return look.outcome === "agrees"
    ? `It agrees, and ${after}.`
    : `It disagrees, and ${after}. The next reading tells of this time too.`;
}

/** What a level says was taken out of a bag since it was last known what it held; `counts`: whether figures rest on it. */
export function levelText(level: LevelJudged, counts: boolean, settings: Settings, zone: string) {
  const { entry, at, method, over, expected, anchors } = level;
  const byLevel = plus(over.since, minus(expected, level.level));
  const difference = minus(byLevel, over.since);
  const apart = difference < NOTHING ? minus(NOTHING, difference) : difference;
  const agrees = apart <= levelTolerance(level, settings);
  const gained = anchors && byLevel < NOTHING;
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
    restsOn: counts && !gained ? ("level" as const) : ("rate-time" as const),
    why:
      anchors && !counts
        ? "It was recorded after this time was signed: what was signed stays, and the next level tells of this time too."
        : whyLevel(level, gained, agrees, apart > levelWorthALook(level, settings)),
  };
}

function whyLevel({ anchors }: LevelJudged, gained: boolean, agrees: boolean, found: boolean): string {
  if (gained) return "It holds more than before, and nothing flows back: it was added to, or misread.";
  if (anchors) return "A gravity set counts nothing: the level is what was delivered.";
  if (agrees) return "A level is a check here, and it agrees.";
  return found
    ? "A level is a check here: it disagrees, and moves no figure."
    : "A level is a check here: it disagrees by less than is looked into, and moves no figure.";
}
