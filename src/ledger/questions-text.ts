/** The questions of a request as a person gets to see them: with the numbers, and what answers each. */

import { likelyReasons } from "../findings/reasons/likely.js";
import type { Ranked } from "../findings/reasons/reason.js";
import { mattersUpTo, type Retelling, worthTelling } from "../findings/reasons/retelling.js";
import { followAll } from "../infusion/course.js";
import type { Placed } from "../infusion/entry.js";
import type { TotalCleared, TotalJudged } from "../infusion/evidence.js";
import { NOWHERE } from "../infusion/flow.js";
import { minus } from "../infusion/quantity.js";
import type { SettingsAt } from "../infusion/step.js";
import type { Inquiry } from "../store/store.js";
import { type Instant, later } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { type AskedOf, confirming, leaving, TOTAL_UNCAPTURED, zoneOf } from "./asked-of.js";
import { lowerSentence, lowerText, unreadSentence, unreadText } from "./chamber-questions.js";
import { courseOf } from "./course.js";
import { volumeText } from "./flow-text.js";
import { type Amending, readyText } from "./proposals.js";
import type { Questions } from "./questions.js";
import { type Refusal, refused } from "./refusal.js";
import { type Known, stretchBetween } from "./replay.js";
import { segmentSentence, segmentText, strayedAmong, undecidedAmong } from "./segment-questions.js";
import { wordsAt } from "./words.js";

/** The refusal that asks; undefined where there is nothing to ask. */
export function* asking(
  { atRisk, disagreements: disagreeing, segments, chambersAtRisk, chambersLower }: Questions,
  of: AskedOf,
): Inquiry<{ readonly refused: Refusal } | undefined> {
  const disagreements = yield* undecidedAmong(disagreeing, of);
  const doubts: object[] = [];
  for (const reading of disagreements) doubts.push(yield* doubtText(reading, of));
  const strayed = yield* strayedAmong(segments, of);
  doubts.push(...strayed.map((segment) => segmentText(segment, of)));
  doubts.push(...chambersLower.map((drained) => lowerText(drained, of)));
  const risks = [
    ...atRisk.map((clear) => riskText(clear, of)),
    ...chambersAtRisk.map((drained) => unreadText(drained, of)),
  ];
  if (risks.length > 0) {
    const said = [
      ...atRisk.map((clear) => riskSentence(clear, of)),
      ...chambersAtRisk.map((drained) => unreadSentence(drained, of)),
    ];
    const members = { atRisk: risks, ...(doubts.length === 0 ? {} : { disagreements: doubts }) };
    return refused({ problem: "totals-at-risk", detail: said.join(" "), members });
  }
  if (doubts.length === 0) return undefined;
  const said = [
    ...disagreements.map((reading) => doubtSentence(reading, of)),
    ...strayed.map((segment) => segmentSentence(segment, of)),
    ...chambersLower.map((drained) => lowerSentence(drained, of)),
  ];
  return refused({
    problem: "reading-disagrees",
    detail: said.join(" "),
    members: { disagreements: doubts },
  });
}

function riskSentence({ channel, total, at, latest, lost, over }: TotalCleared, of: AskedOf): string {
  const words = wordsAt(of.now, zoneOf(of));
  const most = latest > at ? "up to " : "";
  const what = over.atLeast
    ? `what the ${total} total counted`
    : `${most}${words.volume(lost)} of the ${total}`;
  return `${channel} would forget ${what} that nobody has written down since ${words.time(over.from)}.`;
}

function riskText(clear: TotalCleared, of: AskedOf) {
  const { at, latest, channel, total, over, expected, lost, sequence } = clear;
  const sent = of.place(sequence);
  const zone = zoneOf(of)(at);
  // Of a clear that was found nobody can read any more what it showed before.
  const reading = readyText(
    `Read the ${total} total off the device, and record it together with this.`,
    [{ do: "read", entry: { kind: "total-read", at, channel, total, position: "before" } }],
    zone,
    of.find,
  );
  const unknown = over.atLeast;
  return {
    entry: `#/entries/${sent.index}`,
    at: formatInstant(at, zone),
    channel,
    total,
    expected: unknown ? null : volumeText(expected),
    lastReading: over.read ? volumeText(over.base) : null,
    atRisk: unknown ? null : volumeText(lost),
    since: formatInstant(over.from, zone),
    answers: [...(latest > at ? [] : [reading]), ...leaving(TOTAL_UNCAPTURED, sent)],
  };
}

function doubtSentence({ channel, total, value, expected, checkOnly }: TotalJudged, of: AskedOf): string {
  const words = wordsAt(of.now, zoneOf(of));
  const what = checkOnly ? "sum of both totals" : `${total} total`;
  return `The ${what} of ${channel} was read as ${words.volume(value)}; ${words.volume(expected)} was expected.`;
}

function* doubtText(reading: TotalJudged, of: AskedOf): Inquiry<object> {
  const { at, channel, total, value, expected, over, sequence } = reading;
  const { index } = of.place(sequence);
  const zone = zoneOf(of)(at);
  const reasons = yield* reasonsFor(reading, of);
  return {
    entry: `#/entries/${index}`,
    at: formatInstant(at, zone),
    channel,
    total,
    reading: volumeText(value),
    expected: volumeText(expected),
    difference: volumeText(minus(value, expected)),
    since: formatInstant(over.from, zone),
    reasons: reasons.map((ranked) => reasonText(ranked, zone, of.find)),
    answers: [confirming("The device was looked at again, and does show this.", of.place(sequence))],
  };
}

/** Why a reading may disagree, from the course since the mark it was judged over. */
export function* reasonsFor(
  reading: TotalJudged,
  { known, facts, now }: Pick<AskedOf, "known" | "facts" | "now">,
): Inquiry<readonly Ranked[]> {
  const { conventions } = facts;
  const { settingsAt } = conventions;
  const span = { start: reading.over.from, end: reading.at };
  const { collected, entries, before } = yield* courseOf(known, span, settingsAt);
  return likelyReasons({
    reading,
    collected,
    entries: entries.map(({ placed, original }) => ({
      placed,
      recordedAt: original.recordedAt,
      by: original.by.id,
    })),
    state: before,
    retelling: yield* retellingOf(reading, known, settingsAt, now),
    until: now,
    words: wordsAt(now, (at) => conventions.stretchAt(at).zone),
  });
}

/** What counts from the mark of a reading on, to be told again. */
function* retellingOf(
  reading: TotalJudged,
  known: Known,
  settingsAt: SettingsAt,
  now: Instant,
): Inquiry<Retelling> {
  const mark = reading.over.from;
  const end = later(mattersUpTo(reading, now), 1);
  const { state, entries } = yield* stretchBetween(known, settingsAt, mark, end);
  const placed = entries.map((one) => one.placed);
  const isBefore = ({ entry }: Placed) => entry.at < mark;
  const from = followAll(state, placed.filter(isBefore), settingsAt, NOWHERE);
  const since = placed.filter((one) => !isBefore(one));
  return { from, entries: worthTelling(since, reading, now), settingsAt };
}

export function reasonText(
  { place, tied, reason }: Ranked,
  zone: string,
  find: (id: string) => Amending | undefined,
) {
  const { text: sentence, ...ready } = readyText(reason.sentence, reason.proposals, zone, find);
  return { kind: reason.kind, place, tied, sentence, ...ready };
}
