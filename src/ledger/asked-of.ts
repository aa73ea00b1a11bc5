/** What a question needs to know of the request it is asked about, and what every such answer shares. */

import type { Instant } from "../time/instant.js";
import type { PostedFact } from "../wire/entries/facts.js";
import type { Amending, ReadyText } from "./proposals.js";
import type { Known } from "./replay.js";
import type { StayFacts } from "./stay.js";

/** An entry of a request, or what an amendment says instead of one. */
export interface Sent {
  /** Its place in the request. */
  readonly index: number;
  /** The fact as it was sent; of an amendment its replacement. */
  readonly sent: object;
  /** What was sent with more said of the fact: an amendment stays one. */
  readonly saying: (more: object) => object;
  /** Where in what was sent the fact stands: a JSON Pointer, empty for the whole. */
  readonly within: "" | "/replacement";
}

/** What of the request a question is about. */
export interface AskedOf {
  /** As things would be with the request. */
  readonly known: Known;
  readonly facts: StayFacts;
  readonly now: Instant;
  /** By the sequence of its original, an entry of the request. */
  readonly place: (sequence: number) => Sent;
  readonly find: (id: string) => Amending | undefined;
}

export function zoneOf({ facts }: AskedOf): (at: Instant) => string {
  return (at) => facts.conventions.stretchAt(at).zone;
}

type Leaving = NonNullable<Extract<PostedFact, { kind: "totals-reset" }>["leaveUncaptured"]>;

/** What each reason for leaving something unread says of it. */
type Uncaptured = Readonly<Record<Leaving["reason"], string>>;

export const TOTAL_UNCAPTURED: Uncaptured = {
  "already-cleared": "The total was cleared before anybody could read it.",
  "device-gone": "The device is not here any more.",
  unreadable: "The device cannot be read.",
  other: "It is left unread for another reason: say which.",
};

export const CHAMBER_UNCAPTURED: Uncaptured = {
  "already-cleared": "It was emptied before anybody could read it.",
  "device-gone": "The chamber is gone.",
  unreadable: "It cannot be read.",
  other: "It is left unread for another reason: say which.",
};

/** The entry sent with each reason for leaving unread what it clears; a reason without a code is yet to be put into words. */
export function leaving(uncaptured: Uncaptured, { index, saying, within }: Sent): ReadyText[] {
  return Object.entries(uncaptured).map(([reason, text]) => ({
    text,
    entries: [saying({ leaveUncaptured: { reason } })],
    fill: reason === "other" ? [`/0${within}/leaveUncaptured/text`] : [],
    instead: [`#/entries/${index}`],
  }));
}

/** The entry sent, confirmed: somebody looked again. */
export function confirming(text: string, { index, saying }: Sent): ReadyText {
  return { text, entries: [saying({ confirmed: true })], fill: [], instead: [`#/entries/${index}`] };
}
