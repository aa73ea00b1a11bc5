/**
 * The same thing charted twice, within minutes and in two requests: two people wrote it down, or one
 * person twice. What was sent together was seen together, such as a flush before a drug and one after.
 */

import type { BagHung, BolusStarted, Entry, IntakeMeasured } from "../../infusion/entry.js";
import { type Volume, volumeOf } from "../../infusion/quantity.js";
import { MINUTE } from "../../time/instant.js";
import type { Evidence, Found, Reported, Rule } from "../finding.js";
import { withoutEffect } from "../trace.js";

/** As for reports of a person and a device, which count once by themselves. */
const ON_A_CHANNEL = 3 * MINUTE;
const BY_HAND = 5 * MINUTE;

export const possibleDuplicate: Rule = {
  code: "possible-duplicate",
  runs: "recording",
  find: (evidence) => {
    const nothing = withoutEffect(evidence.collected);
    const charted = evidence.entries.filter(
      ({ placed }) => placed.source === "person" && !nothing.has(placed.id),
    );
    return charted.flatMap((one) => {
      const twin = charted.find((other) => isEarlierTwin(other, one, evidence));
      return twin === undefined ? [] : [found(one, twin, evidence)];
    });
  },
};

/** Of two that are alike the later recorded one is the duplicate. */
function isEarlierTwin(earlier: Reported, one: Reported, evidence: Evidence): boolean {
  if (earlier.placed.sequence >= one.placed.sequence) return false;
  const together = earlier.recordedAt === one.recordedAt && earlier.by === one.by;
  return !together && alike(earlier.placed.entry, one.placed.entry, evidence);
}

function alike(a: Entry, b: Entry, evidence: Evidence): boolean {
  const apart = Math.abs(a.at - b.at);
  if (a.kind === "bolus-started" && b.kind === "bolus-started") {
    return apart <= ON_A_CHANNEL && sameBolus(a, b);
  }
  if (a.kind === "intake-measured" && b.kind === "intake-measured") {
    return apart <= BY_HAND && sameIntake(a, b);
  }
  if (a.kind === "bag-hung" && b.kind === "bag-hung") {
    return apart <= ON_A_CHANNEL && sameBag(a, b) && !isDown(a, evidence);
  }
  return false;
}

function sameBolus(a: BolusStarted, b: BolusStarted): boolean {
  return a.channel === b.channel && a.volume === b.volume;
}

function sameIntake(a: IntakeMeasured, b: IntakeMeasured): boolean {
  return (
    a.category === b.category &&
    a.volume === b.volume &&
    a.measure?.name === b.measure?.name &&
    a.measure?.count === b.measure?.count &&
    a.item === b.item &&
    a.line === b.line &&
    a.from === b.from
  );
}

/** One bag under two keys. */
function sameBag(a: BagHung, b: BagHung): boolean {
  return (
    a.bag !== b.bag &&
    a.channel === b.channel &&
    a.role === b.role &&
    a.volume === b.volume &&
    a.fluid.name === b.fluid.name
  );
}

function isDown({ bag }: BagHung, { entries }: Evidence): boolean {
  return entries.some(({ placed: { entry } }) => entry.kind === "bag-taken-down" && entry.bag === bag);
}

const SAID = { "bolus-started": "bolus", "intake-measured": "intake", "bag-hung": "bag" } as const;
type Judged = Extract<Entry, { kind: keyof typeof SAID }>;

function found(one: Reported, twin: Reported, { words }: Evidence): Found {
  const entry = one.placed.entry as Judged;
  const volume: Volume | null = entry.volume === undefined ? null : volumeOf(entry.volume);
  const of = volume === null ? "" : ` of ${words.volume(volume)}`;
  const where = "channel" in entry ? ` on ${entry.channel}` : "";
  return {
    code: "possible-duplicate",
    severity: "attention",
    subject: one.placed.id,
    channel: "channel" in entry ? entry.channel : null,
    start: entry.at,
    entries: [one.placed.id, twin.placed.id],
    volume,
    sentence:
      `The same ${SAID[entry.kind]}${of}${where} was charted twice, at ${words.time(twin.placed.entry.at)} ` +
      `and at ${words.time(entry.at)}.`,
    settledBy: [
      {
        text: "A void of the second, if it was one and the same.",
        proposals: [{ do: "void", target: one.placed.id, reason: "charted twice" }],
      },
    ],
  };
}
