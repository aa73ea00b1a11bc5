/** Why a figure is what it is, in one plain sentence: what ran and for how long, what was read, what held it. */

import type { Words } from "../findings/finding.js";
import type { Anchor } from "../infusion/anchor.js";
import { type Delivery, isSpread } from "../infusion/delivery.js";
import type { Rate } from "../infusion/quantity.js";
import { earliest, type Instant, latest, type Period } from "../time/instant.js";
import { millilitres } from "../wire/quantity.js";
import type { Held, Other } from "./explanation-causes.js";
import type { Parts } from "./explanation-parts.js";

/** A figure as it is shown: whole microlitres, and the milliseconds of which nobody knows. */
interface Figure {
  readonly label: string;
  /** Null before its period begins. */
  readonly volume: number | null;
  readonly unknown: number;
}

/** The sentence about a figure of a period, as far as that has come. */
export function sentenceOf(
  { label, volume, unknown }: Figure,
  period: Period,
  parts: Parts,
  { held, others }: { readonly held: readonly Held[]; readonly others: readonly Other[] },
  words: Words,
): string {
  const subject = `${label}, ${words.time(period.start)} to ${words.time(period.end)}`;
  if (volume === null) return `${subject}: it has not begun.`;
  const counted = countedAt(parts);
  const clauses = [
    ...ranClause(parts.deliveries, period, words),
    ...held.map((turn) => holdClause(turn, words)),
    ...others.map((other) => otherClause(other, words)),
    ...parts.anchors.filter(({ entry }) => !counted.has(entry)).map((anchor) => anchorClause(anchor, words)),
    ...cappedClause(parts.deliveries),
    ...parts.unattributed.map((one) =>
      counted.has(one.entry)
        ? `${one.channel} counted ${words.volume(one.volume)} from ${words.time(one.from)} to ` +
          `${words.time(one.at)}, and all of it stands at the reading`
        : `${words.volume(one.volume)} of what was read fits no flow and stands at the reading`,
    ),
    ...parts.countedLater.map(
      ({ channel, from, at }) =>
        `what ${channel} counted from ${words.time(from)} stands at its reading at ${words.time(at)}`,
    ),
    ...measuredClause(parts.amounts.length),
    ...(unknown === 0 ? [] : [`of ${words.duration(unknown)} nobody knows, so it is the least it can be`]),
  ];
  const why = clauses.length === 0 ? "nothing was charted for it in this time" : clauses.join("; ");
  return `${subject}: ${millilitres(volume)} mL, since ${why}.`;
}

/** The readings at which all stands that a metered channel counted: those say it themselves. */
function countedAt({ anchors, unattributed, countedLater }: Parts): ReadonlySet<string> {
  const told = new Set([...unattributed, ...countedLater].map(({ entry }) => entry));
  return new Set(
    anchors.filter(({ metered, entry }) => metered && told.has(entry)).map(({ entry }) => entry),
  );
}

function ranClause(deliveries: readonly Delivery[], period: Period, words: Words): string[] {
  const runs = runsOf(
    deliveries.filter((one) => !isSpread(one)),
    period,
  );
  const spread = runsOf(deliveries.filter(isSpread), period).reduce((sum, { lasts }) => sum + lasts, 0);
  const at = runs.map(({ rate, lasts }) => `${words.duration(lasts)} at ${words.rate(rate)}`);
  return [
    ...(runs.length === 0 ? [] : [`it ran ${listed(at)}`]),
    ...(spread === 0
      ? []
      : [
          `nobody knows at what rate it ran for ${words.duration(spread)}: what was read is shared evenly over the time`,
        ]),
  ];
}

/** How long it ran at which rate, as one where only a reading lies between. */
function runsOf(deliveries: readonly Delivery[], { start, end }: Period) {
  const runs: { rate: Rate; lasts: number; until: Instant; channel: string }[] = [];
  for (const delivery of deliveries) {
    const [from, until] = [latest(delivery.start, start), earliest(delivery.end, end)];
    const { rate, channel } = delivery;
    const before = runs.at(-1);
    if (before?.channel === channel && before.rate === rate && before.until === from) {
      runs[runs.length - 1] = { ...before, lasts: before.lasts + (until - from), until };
    } else runs.push({ rate, lasts: until - from, until, channel });
  }
  return runs;
}

/** Where less was read than ran by its rate, and by more than a rate can be off. */
function cappedClause(deliveries: readonly Delivery[]): string[] {
  const capped = deliveries.some(({ scale, volume, computed }) => scale === null && volume < computed);
  return capped ? ["what was read is so much less that the difference comes off what flowed last"] : [];
}

function otherClause({ channel, role, waited, at }: Other, words: Words): string {
  const started = `that started at ${words.time(at)}`;
  if (!waited) return `${channel} gave something else ${started}`;
  return `it waited on ${channel} for the ${role} ${started}`;
}

function anchorClause(anchor: Anchor, words: Words): string {
  const { kind, delivered, computed, from, to, basis, metered, unplaced } = anchor;
  const [at, since] = [words.time(to), words.time(from)];
  if (delivered === null) {
    const shown =
      kind === "level"
        ? `the bag held more at ${at} than before`
        : `the reading at ${at} is lower than the one before`;
    return `${shown}, so nobody knows what was delivered since ${since}`;
  }
  const what = kind === "level" ? "the level" : kind === "segment" ? "the device's segment" : "the reading";
  const said = `${what} at ${at} says ${words.volume(delivered)} since ${since}`;
  const against = metered ? "" : ` where ${words.volume(computed)} were computed`;
  const doubt = basis === "disputed" ? ", which is in dispute" : "";
  if (unplaced === undefined) return `${said}${against}${doubt}`;
  const kept = `${words.volume(unplaced)} more are signed, or counted by segments, and stay`;
  return `${said}${against}${doubt}; ${kept}`;
}

function measuredClause(amounts: number): string[] {
  if (amounts === 0) return [];
  return [`${amounts} measured ${amounts === 1 ? "amount" : "amounts"}`];
}

function holdClause({ channel, is, at }: Held, words: Words): string {
  const time = words.time(at);
  switch (is) {
    case "paused":
      return `${channel} was paused at ${time}`;
    case "waiting":
      return `${channel} waited from ${time} for somebody to resume it`;
    case "stopped":
      return `${channel} was stopped at ${time}`;
    case "disconnected":
      return `${channel} was disconnected at ${time}`;
    case "ended":
      return `what ran on ${channel} ended at ${time}`;
    default:
      return is satisfies never;
  }
}

/** "a", "a and b", "a, b and c". */
export function listed(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}
