/**
 * What a bag holds and what was computed to be left in it lie apart, or it was taken down with much left
 * and nobody wrote how much.
 */

import type { BagGone, LevelJudged } from "../../infusion/evidence.js";
import { levelWorthALook, worthALook } from "../../infusion/level-tolerance.js";
import {
  greater,
  minus,
  NOTHING,
  plus,
  thousandths,
  type Volume,
  volumeOf,
} from "../../infusion/quantity.js";
import type { Evidence, Found, Rule } from "../finding.js";

/** Beyond this share of what was computed a level of a gravity set, which is taken as it is, is worth a note. */
const GRAVITY_PERCENT = 20;

export const bagUnaccounted: Rule = {
  code: "bag-unaccounted",
  runs: "recording",
  find: (evidence) => [...goneWithMuch(evidence), ...checkedLevels(evidence), ...anchoringLevels(evidence)],
};

/** A bag that is hung again is accounted for. */
function goneWithMuch({ collected, entries, settingsAt, words }: Evidence): Found[] {
  const hungAgain = ({ bag, at }: BagGone) =>
    entries.some(({ placed: { entry } }) => entry.kind === "bag-hung" && entry.bag === bag && entry.at >= at);
  return collected.gone
    .filter((gone) => gone.expected > worthALook(gone.label, settingsAt(gone.at)) && !hungAgain(gone))
    .map(({ entry, channel, at, bag, expected }) => ({
      code: "bag-unaccounted",
      severity: "attention",
      subject: entry,
      channel,
      start: at,
      entries: [entry],
      volume: expected,
      sentence:
        `The bag ${bag} was taken down at ${words.time(at)} with ${words.volume(expected)} computed to be ` +
        "left in it, and nobody wrote how much was.",
      settledBy: [{ text: "An amendment of the taking down that says what remained." }],
    }));
}

/**
 * A level on a pump moves nothing, so each one repeats what the one before it said: the last one of a bag
 * counts, and the finding hangs on the first that strayed without one that agreed since.
 */
function checkedLevels(evidence: Evidence): Found[] {
  const strays = new Map<string, LevelJudged[]>();
  for (const level of evidence.collected.levels.filter(({ anchors }) => !anchors)) {
    const apart = distance(level.level, level.expected);
    if (apart <= levelWorthALook(level, evidence.settingsAt(level.at))) strays.delete(level.bag);
    else strays.set(level.bag, [...(strays.get(level.bag) ?? []), level]);
  }
  return [...strays.values()].map((levels) => levelApart(levels, "attention", evidence));
}

/** Of a gravity set a level is taken as it is; but nothing flows back into a bag. */
function anchoringLevels(evidence: Evidence): Found[] {
  const anchoring = evidence.collected.levels.filter(({ anchors }) => anchors);
  const gained = ({ over, level, expected }: LevelJudged) => level > plus(expected, over.since);
  const strayed = anchoring
    .filter((one) => !gained(one))
    .filter(({ over, level, expected, at }) => {
      const allowed = greater(
        thousandths(over.since, GRAVITY_PERCENT * 10),
        volumeOf(evidence.settingsAt(at).readingTolerance.pump),
      );
      return !over.atLeast && distance(level, expected) > allowed;
    });
  return [
    ...anchoring.filter(gained).map((level) => levelApart([level], "attention", evidence)),
    ...strayed.map((level) => levelApart([level], "note", evidence)),
  ];
}

function levelApart(levels: readonly LevelJudged[], severity: Found["severity"], evidence: Evidence): Found {
  const { words } = evidence;
  const [first, last] = [levels[0]!, levels.at(-1)!];
  const apart = distance(last.level, last.expected);
  return {
    code: "bag-unaccounted",
    severity,
    subject: first.entry,
    channel: first.channel,
    says: last.level < last.expected ? "more" : "less",
    start: first.over.from,
    end: last.at,
    entries: [...levels.map(({ entry }) => entry), first.over.entry],
    volume: apart,
    sentence:
      `The bag ${first.bag} held ${words.volume(last.level)} at ${words.time(last.at)}, and ` +
      `${words.volume(last.expected)} was computed to be left: ${words.volume(apart)} ` +
      `${last.level < last.expected ? "is missing" : "too much"}.`,
    settledBy: [
      { text: "What changed the flow or the bag's contents, recorded late, or an amendment of the level." },
    ],
  };
}

function distance(a: Volume, b: Volume): Volume {
  const difference = minus(a, b);
  return difference < NOTHING ? minus(b, a) : difference;
}
