/** The questions about chambers, as a person gets to see them. */

import type { Drained } from "../infusion/evidence.js";
import { minus } from "../infusion/quantity.js";
import { type Instant, later, MINUTE } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { type AskedOf, CHAMBER_UNCAPTURED, confirming, leaving, type Sent, zoneOf } from "./asked-of.js";
import { volumeText } from "./flow-text.js";
import { wordsAt } from "./words.js";

export function unreadSentence({ chamber, from }: Drained, of: AskedOf): string {
  const words = wordsAt(of.now, zoneOf(of));
  return `What ${chamber} collected would be unknown: nobody has read it since ${words.time(from)}.`;
}

/** An emptying of a chamber that nobody read. */
export function unreadText({ chamber, at, from, level, sequence }: Drained, of: AskedOf) {
  const sent = of.place(sequence);
  const { index, saying, within } = sent;
  const zone = zoneOf(of)(at);
  const instead = [`#/entries/${index}`];
  const text = "Read what the chamber holds, and say it with this.";
  return {
    entry: `#/entries/${index}`,
    at: formatInstant(at, zone),
    chamber,
    expected: null,
    lastReading: volumeText(level),
    atRisk: null,
    since: formatInstant(from, zone),
    answers: [
      { text, entries: [saying({})], fill: [`/0${within}/level`], instead },
      ...leaving(CHAMBER_UNCAPTURED, sent),
    ],
  };
}

export function lowerSentence({ chamber, level, shows }: Drained, of: AskedOf): string {
  const words = wordsAt(of.now, zoneOf(of));
  return `${chamber} was read at ${words.volume(shows!)}; it held ${words.volume(level)} before.`;
}

/** A chamber that holds less than before. */
export function lowerText({ chamber, at, from, level, shows, sequence }: Drained, of: AskedOf) {
  const sent = of.place(sequence);
  const zone = zoneOf(of)(at);
  return {
    entry: `#/entries/${sent.index}`,
    at: formatInstant(at, zone),
    chamber,
    reading: volumeText(shows!),
    expected: volumeText(level),
    difference: volumeText(minus(shows!, level)),
    since: formatInstant(from, zone),
    reasons: emptyings(chamber, from, at, zone),
    answers: asItIs(sent),
  };
}

/**
 * The emptying that nobody charted, a minute before the look that tells of it: at one instant a level is read
 * before a chamber is emptied. Nearer to the look before it stands halfway, and at the same instant nowhere.
 */
function emptyings(chamber: string, from: Instant, at: Instant, zone: string) {
  const ago = Math.min(MINUTE, Math.floor((at - from) / 2));
  if (ago <= 0) return [];
  return [
    {
      kind: "clear-missing",
      place: 1,
      tied: false,
      sentence: `${chamber} was emptied before it was read; say when, and what it held.`,
      entries: [{ kind: "chamber-emptied", at: formatInstant(later(at, -ago), zone), chamber }],
      fill: ["/0/level"],
      instead: [],
    },
  ];
}

/** A level read may be confirmed; of an emptying it may be left open what the chamber held. */
function asItIs(sent: Sent) {
  if (!("kind" in sent.sent && sent.sent.kind === "chamber-read")) return leaving(CHAMBER_UNCAPTURED, sent);
  return [confirming("The chamber was looked at again, and does hold this.", sent)];
}
