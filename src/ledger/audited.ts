/**
 * What the audit knows of one encounter's part of a shift: gathered by the ways in which every other answer
 * is made, of the shift alone where that is enough.
 */

import type { Audited, BroughtForward, SignedPart } from "../audit/audited.js";
import { irrigationOver } from "../balance/irrigation.js";
import { CLOCKS_APART } from "../infusion/counter.js";
import type { SegmentJudged, TotalCleared } from "../infusion/evidence.js";
import { NOTHING } from "../infusion/quantity.js";
import { segmentsJudged } from "../infusion/segment.js";
import { ask, type Inquiry } from "../store/store.js";
import { earliest, type Instant, later, latest, MINUTE, type Period } from "../time/instant.js";
import { chartsWithin } from "./compared-charts.js";
import type { Coordinates } from "./coordinates.js";
import { courseOf } from "./course.js";
import { correctionsOf } from "./families.js";
import { mostOf } from "./figures.js";
import { beginningOf, type Posted, postedOver } from "./posted.js";
import { type CountingEntry, reported } from "./replay.js";
import { signaturesOver } from "./signatures.js";
import { tilesOf } from "./tiles.js";
import type { Window } from "./window.js";

/** Everything that measures are taken from, of a span that has begun. */
export function* auditedOf(
  at: Coordinates,
  span: Period,
  broughtForward: BroughtForward | null,
): Inquiry<Audited> {
  const { settingsAt, settingsOfAmount } = at.facts.conventions;
  const { admittedAt } = at.facts;
  const { chain, upTo } = at.known;
  const settings = settingsAt(span.start);
  const has = (instant: Instant) => {
    if (instant < span.start || instant > span.end) return false;
    // The first of a stay also takes what is charted at its start.
    if (instant === span.start && instant !== admittedAt)
      return settingsOfAmount(instant).boundary === "starts";
    return instant < span.end || settingsOfAmount(instant).boundary === "ends";
  };
  const { window, postings } = yield* shiftPosted(at, span);
  const own = window.entries.filter(({ placed }) => has(placed.entry.at));
  return {
    span,
    settings,
    settingsAt,
    has,
    entries: own.map(reported),
    corrections: correctionsOf(yield* ask({ ask: "corrected", chain, upTo }), has),
    collected: window.collected,
    segments: yield* segmentsBefore(at, window.collected.clears),
    state: window.state,
    until: earliest(at.until, later(span.end, CLOCKS_APART)),
    unknown: window.unknown,
    postings: postings.filter(({ interval }) => interval === 0),
    ...(yield* irrigated(at, span, window.state.irrigating.size > 0, has)),
    signed: yield* signedIn(at, span),
    charts: yield* chartsWithin(at, span),
    weightMissing: yield* weightMissing(at, span, window),
    broughtForward,
  };
}

/** The postings of a span, and the course of it and of the minutes after it in which a clear may still be read. */
function* shiftPosted(at: Coordinates, span: Period): Inquiry<Posted> {
  const to = earliest(at.until, later(span.end, CLOCKS_APART));
  const after = to > span.end ? [{ start: span.end, end: to }] : [];
  const { start } = span;
  return yield* postedOver(at, { intervals: [span, ...after], from: start, lookBack: start, since: start });
}

/** What devices told in segments up to the last of some clears, since their totals were last written down. */
function* segmentsBefore(
  { known, facts, until }: Coordinates,
  clears: readonly TotalCleared[],
): Inquiry<readonly SegmentJudged[]> {
  const last = clears.at(-1);
  if (last === undefined) return [];
  const start = earliest(...clears.map(({ written }) => later(written.from, -MINUTE)));
  const end = earliest(until, later(latest(...clears.map((one) => one.latest)), 2 * MINUTE));
  const { collected } = yield* courseOf(known, { start, end }, facts.conventions.settingsAt);
  return segmentsJudged(collected);
}

/** Whether no weight is known at the end of a span, of a window that may reach some minutes further. */
function* weightMissing(at: Coordinates, { end }: Period, { state, entries }: Window): Inquiry<boolean> {
  const isAfter = ({ placed: { entry } }: CountingEntry) =>
    entry.kind === "weight-measured" && entry.at > end;
  if (!entries.some(isAfter)) return state.weight === null;
  const own = yield* courseOf(at.known, { start: end, end }, at.facts.conventions.settingsAt);
  return own.state.weight === null;
}

/** Irrigation as the balance has it, which works out the whole stay: so only where there ever was some. */
function* irrigated(
  at: Coordinates,
  span: Period,
  byLine: boolean,
  has: Audited["has"],
): Inquiry<Pick<Audited, "irrigation" | "exceeding">> {
  const { chain, upTo } = at.known;
  const kinds = ["irrigant-instilled"] as const;
  const isAny = byLine || (yield* ask({ ask: "kinds", chain, kinds, upTo })).length > 0;
  if (!isAny) return { irrigation: [], exceeding: 0 };
  const from = earliest(beginningOf(at.facts), span.start);
  const { irrigated: all, end } = yield* postedOver(at, { intervals: [span], from, since: from });
  const { admittedAt, conventions } = at.facts;
  const irrigation = irrigationOver(all, { start: span.start, end }, (one, by) => {
    const ends = conventions.settingsOfAmount(one).boundary === "ends" && one !== admittedAt;
    return ends ? one <= by : one < by;
  });
  return { irrigation, exceeding: all.outputs.filter((one) => one.exceeds > NOTHING && has(one.at)).length };
}

function* signedIn(at: Coordinates, { start, end }: Period): Inquiry<SignedPart[]> {
  const signatures = yield* signaturesOver(at.known, { from: start, to: end });
  const tiles = yield* tilesOf(at, signatures);
  return tiles.map(({ signature: { from, to }, moved }) => {
    return { start: from, end: to, moved: moved.length, most: mostOf(moved) };
  });
}
