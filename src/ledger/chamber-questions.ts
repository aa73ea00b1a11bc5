/** The questions about chambers, as a person gets to see them. */

import type { Drained } from "../infusion/evidence.js";
import { minus } from "../infusion/quantity.js";
import { formatInstant } from "../time/zone.js";
import { type AskedOf, UNCAPTURED, zoneOf } from "./asked-of.js";
import { volumeText } from "./flow-text.js";
import { wordsAt } from "./words.js";

export function unreadSentence({ chamber, from }: Drained, of: AskedOf): string {
  const words = wordsAt(of.now, zoneOf(of));
  return `What ${chamber} collected would be unknown: nobody has read it since ${words.time(from)}.`;
}

/** An emptying of a chamber that nobody read. */
export function unreadText({ chamber, at, from, level, sequence }: Drained, of: AskedOf) {
  const { index, saying, within } = of.place(sequence);
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
      ...Object.entries(UNCAPTURED).map(([reason, text]) => ({
        text,
        entries: [saying({ leaveUncaptured: { reason } })],
        fill: [],
        instead,
      })),
    ],
  };
}

export function lowerSentence({ chamber, level, shows }: Drained, of: AskedOf): string {
  const words = wordsAt(of.now, zoneOf(of));
  return `${chamber} was read at ${words.volume(shows!)}; it held ${words.volume(level)} before.`;
}

/** A chamber that holds less than before. */
export function lowerText({ chamber, at, from, level, shows, sequence }: Drained, of: AskedOf) {
  const { index, saying } = of.place(sequence);
  const zone = zoneOf(of)(at);
  const emptied = { kind: "chamber-emptied", at: formatInstant(at, zone), chamber };
  return {
    entry: `#/entries/${index}`,
    at: formatInstant(at, zone),
    chamber,
    reading: volumeText(shows!),
    expected: volumeText(level),
    difference: volumeText(minus(shows!, level)),
    since: formatInstant(from, zone),
    reasons: [
      {
        kind: "clear-missing",
        place: 1,
        tied: false,
        sentence: `${chamber} was emptied before it was read; say when, and what it held.`,
        entries: [emptied],
        instead: [],
      },
    ],
    answers: [
      {
        text: "The chamber was looked at again, and does hold this.",
        entries: [saying({ confirmed: true })],
        fill: [],
        instead: [`#/entries/${index}`],
      },
    ],
  };
}
