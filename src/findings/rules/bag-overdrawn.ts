/**
 * More came out of a bag than it was said to hold: of its overfill, or its contents were charted wrong, or the
 * next bag was never charted. A device a few per cent slow makes any bag last longer than computed, so only what
 * lies beyond the tolerance of a reading is told.
 */

import type { Note } from "../../infusion/flow.js";
import { deliveredBy } from "../../infusion/flow.js";
import { greater, minus, NOTHING, percentOf, plus, type Volume, volumeOf } from "../../infusion/quantity.js";
import { earliest, type Instant, type Period } from "../../time/instant.js";
import type { Evidence, Found, Reported, Rule, Settlement } from "../finding.js";
import { flowsOn, reportedAs } from "../lookup.js";
import { asSentence } from "../said.js";

export const bagOverdrawn: Rule = {
  code: "bag-overdrawn",
  runs: "asking",
  find: (evidence) =>
    evidence.collected.notes.flatMap((note) => {
      if (note.code !== "bag-overdrawn" || note.bag === undefined || note.channel === null) return [];
      const { bag, channel } = note;
      const drawn = reportedAs(evidence, note.entry)?.placed.entry.kind !== "bag-adjusted";
      return drawn ? drawnTooMuch({ ...note, bag, channel }, evidence) : [takenOut(note)];
    }),
};

type OfBag = Note & { readonly bag: string; readonly channel: string };

const SETTLED_BY: readonly Settlement[] = [
  { text: "What was added to the bag, or the bag that was hung after it." },
];

/**
 * It hangs on what last told the bag's contents, its hanging or on a gravity set a level: of several bags on one flow
 * each has its own.
 */
function drawnTooMuch({ bag, channel, at, entry }: OfBag, evidence: Evidence): Found[] {
  const { words, until } = evidence;
  const told = evidence.entries.filter((one) => tellsContents(one, bag, evidence));
  const before = told.findLast(({ placed }) => placed.entry.at <= at);
  const known = told.findLast(({ placed: { entry: one } }) => saysContents(one.kind) && one.at <= at);
  const next = told.find(({ placed }) => placed.entry.at > at);
  const end = earliest(until, next?.placed.entry.at ?? until);
  const given = (start: Instant) => drawnWithin(bag, channel, { start, end }, evidence);
  const beyond = given(at);
  if (beyond <= tolerance(channel, given(before?.placed.entry.at ?? evidence.from), at, evidence)) return [];
  const subject = known?.placed.id ?? entry;
  return [
    {
      code: "bag-overdrawn",
      severity: "note",
      subject,
      channel,
      start: at,
      entries: [...new Set([subject, entry])],
      volume: beyond,
      sentence:
        `The bag ${bag} on ${channel} gave what it was said to hold by ${words.time(at)}, and ` +
        `${words.volume(beyond)} more are computed out of it.`,
      settledBy: SETTLED_BY,
    },
  ];
}

/** Somebody charted that they took out more than there was. */
function takenOut({ entry, channel, at, why }: Note): Found {
  return {
    code: "bag-overdrawn",
    severity: "note",
    subject: entry,
    channel,
    start: at,
    entries: [entry],
    volume: null,
    sentence: asSentence(why),
    settledBy: SETTLED_BY,
  };
}

/** An adjustment says only by how much they changed. */
function saysContents(kind: string): boolean {
  return kind === "bag-hung" || kind === "bag-level-read";
}

/** A level of any other channel than a gravity set is compared, and changes nothing. */
function tellsContents({ placed: { id, entry } }: Reported, bag: string, { collected }: Evidence): boolean {
  if (!("bag" in entry) || entry.bag !== bag) return false;
  if (entry.kind === "bag-level-read") return collected.levels.some((one) => one.entry === id && one.anchors);
  return ["bag-hung", "bag-adjusted", "bag-taken-down"].includes(entry.kind);
}

function drawnWithin(bag: string, channel: string, { start, end }: Period, { collected }: Evidence): Volume {
  return flowsOn(collected, channel)
    .filter((flow) => flow.bag === bag && start < flow.end && flow.start < end)
    .reduce((sum, flow) => plus(sum, minus(deliveredBy(flow, end), deliveredBy(flow, start))), NOTHING);
}

/** As of a reading: a share of what was computed since it was last told what the bag holds, and a floor. */
function tolerance(channel: string, computed: Volume, at: Instant, { settingsAt, state }: Evidence): Volume {
  const { percent, pump, syringe } = settingsAt(at).readingTolerance;
  const floor = state.channels.get(channel)?.type === "syringe" ? syringe : pump;
  return greater(percentOf(computed, percent), volumeOf(floor));
}
