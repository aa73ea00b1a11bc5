/** The evidence that findings are made of, gathered over a stretch of a stay. */

import type { Evidence, ShiftEnd, SignedSpan } from "../findings/finding.js";
import { collector } from "../infusion/collected.js";
import { comeUpTo, followAll } from "../infusion/course.js";
import { volumeOf } from "../infusion/quantity.js";
import { segmentsJudged } from "../infusion/segment.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, later } from "../time/instant.js";
import { type ShiftSpan, shiftsIn } from "../time/shifts.js";
import { chartsCompared } from "./compared-charts.js";
import type { Moment } from "./coordinates.js";
import { mostOf } from "./figures.js";
import { type CountingEntry, reported, stretchBetween } from "./replay.js";
import { BEFORE_ADMISSION } from "./sense.js";
import { allSignatures, type Signature } from "./signatures.js";
import { type StayFacts, shiftOf } from "./stay.js";
import { tilesOf } from "./tiles.js";
import { wordsAt } from "./words.js";

export interface StayEvidence {
  readonly evidence: Evidence;
  readonly entries: readonly CountingEntry[];
}

/** Everything that came to light from the start of a stay, as far as it is known and has come. */
export function* evidenceOf({ known, until, facts }: Moment): Inquiry<StayEvidence> {
  const { settingsAt, stretchAt } = facts.conventions;
  const from = later(facts.admittedAt, -BEFORE_ADMISSION);
  const stretch = yield* stretchBetween(known, settingsAt, from, later(until, 1));
  const { sink, ...collected } = collector();
  const shiftEnds: ShiftEnd[] = [];
  let { state } = stretch;
  let next = 0;
  const followUp = (before: Instant) => {
    const first = next;
    while (next < stretch.entries.length && stretch.entries[next]!.placed.entry.at < before) next++;
    const told = stretch.entries.slice(first, next).map(({ placed }) => placed);
    state = followAll(state, told, settingsAt, sink);
  };
  for (const shift of endedShifts(facts, until)) {
    followUp(shift.end);
    state = comeUpTo(state, shift.end, sink);
    shiftEnds.push({ shift: nameOf(shift), start: shift.start, end: shift.end, state });
  }
  followUp(later(until, 1));
  state = comeUpTo(state, until, sink);
  const evidence: Evidence = {
    from,
    until,
    settingsAt,
    collected,
    segments: segmentsJudged(collected),
    entries: stretch.entries.map(reported),
    before: stretch.state,
    state,
    shiftEnds,
    shiftAt: (at) => nameOf(shiftOf(facts, at)),
    leftIn: leftIn(facts, until),
    signed: yield* signedSpans({ known, until, facts }, yield* allSignatures(known)),
    charts: yield* chartsCompared({ known, until, facts }),
    words: wordsAt(until, (at) => stretchAt(at).zone),
  };
  return { evidence, entries: stretch.entries };
}

/** The shift in which the patient left, where that is not its very end: then it is one that has ended. */
function leftIn(facts: StayFacts, until: Instant): Evidence["leftIn"] {
  const { dischargedAt } = facts;
  if (dischargedAt === null || dischargedAt > until) return null;
  const shift = shiftOf(facts, later(dischargedAt, -1));
  return shift.end === dischargedAt ? null : { shift: nameOf(shift), start: shift.start, end: dischargedAt };
}

/** What became of the figures of some signatures; all of them are worked out in one go. */
export function* signedSpans(at: Moment, signatures: readonly Signature[]): Inquiry<SignedSpan[]> {
  const tiles = yield* tilesOf(at, signatures);
  return tiles.map(({ signature: { id, recordedAt, by }, start, end, piece, moved, lost }) => ({
    entry: id,
    shift: nameOf(piece),
    start,
    end,
    signedAt: recordedAt,
    by: by.name,
    moved: moved.length === 0 ? null : { figures: moved.length, most: volumeOf(mostOf(moved)) },
    lost: lost === null ? null : { why: lost, unit: piece.unit },
  }));
}

/** The shifts of the stay that have ended by an instant. */
function endedShifts({ admittedAt, dischargedAt, conventions }: StayFacts, until: Instant): ShiftSpan[] {
  const end = earliest(until, dischargedAt ?? until);
  if (end <= admittedAt) return [];
  return shiftsIn(conventions.stretches, { start: admittedAt, end }).filter((shift) => shift.end <= end);
}

/** How a shift is named in a path or query. */
export function nameOf({ date, name }: ShiftSpan): string {
  return `${date}/${name}`;
}
