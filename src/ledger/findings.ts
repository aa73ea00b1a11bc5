/** The findings of an encounter: asked for, raised and settled by what is recorded, and acknowledged. */

import { findingsIn, readingInQuestion } from "../findings/find.js";
import {
  type ChartCompared,
  type Evidence,
  type Found,
  idOfFinding,
  type Settlement,
  type SignedSpan,
} from "../findings/finding.js";
import { follow } from "../infusion/course.js";
import { type Event, eventsCollected, listing } from "../infusion/event.js";
import type { SegmentJudged, TotalJudged } from "../infusion/evidence.js";
import { NOWHERE } from "../infusion/flow.js";
import { segmentsJudged } from "../infusion/segment.js";
import type { SettingsAt } from "../infusion/step.js";
import type { Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { earliest, type Instant, later, latest } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import type { AcknowledgedText } from "../wire/stored.js";
import { type Acknowledgement, acknowledgements, chainOf, covers } from "./acknowledgements.js";
import type { Appended } from "./append.js";
import type { Side, Sides } from "./change.js";
import { chartsTouched } from "./charts-touched.js";
import { type Coordinates, coordinates, written } from "./coordinates.js";
import { courseOf } from "./course.js";
import { evidenceOf, nameOf } from "./evidence.js";
import { type FindingState, type FindingText, findingText, settledText } from "./finding-text.js";
import { volumeText } from "./flow-text.js";
import type { Asked } from "./ledger.js";
import { type Answered, adding, nothing, type Request } from "./own-entries.js";
import type { Amending } from "./proposals.js";
import { reasonsFor } from "./questions-text.js";
import type { Both } from "./reach.js";
import { done, type Outcome, refused } from "./refusal.js";
import { type CountingEntry, type Known, reported, stretchBetween } from "./replay.js";
import { signedTouched } from "./signed-touched.js";
import { shiftOf } from "./stay.js";
import { wordsAt } from "./words.js";

export interface FindingsQuery extends Asked {
  readonly state: FindingState | "all";
}

/** The findings of a stay, as they are known and as far as it has come. */
export function* findings(encounter: string, query: FindingsQuery, now: Instant): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const at = resolved.done;
  const all = yield* toldOf(at);
  const wanted = all.filter(({ state }) => query.state === "all" || state === query.state);
  return done({ ...written(at), findings: wanted });
}

/** Every finding there is, and after them those that were acknowledged and are found no more. */
export function* toldOf(at: Coordinates): Inquiry<FindingText[]> {
  const { found, find } = yield* foundIn(at);
  const acknowledged = yield* acknowledgements(at.known);
  const ids = new Set(found.map(idOfFinding));
  const gone = [...acknowledged].filter(([id]) => !ids.has(id));
  return [
    ...found.map((one) => stated(one, acknowledged.get(idOfFinding(one)), at.facts, find)),
    ...gone.map(([, acknowledgement]) => settledText(acknowledgement, at.facts)),
  ];
}

function stated(
  found: Found,
  acknowledgement: Acknowledgement | undefined,
  facts: Coordinates["facts"],
  find: (id: string) => Amending | undefined,
): FindingText {
  if (acknowledgement === undefined) return findingText(found, "open", facts, find);
  const state = covers(acknowledgement, found, facts) ? "acknowledged" : "open";
  return findingText(found, state, facts, find, acknowledgement);
}

/** What is found, each question about a reading with its likely reasons. */
function* foundIn(at: Coordinates) {
  const { evidence, entries } = yield* evidenceOf(at);
  const counting = new Map(entries.map((one) => [one.original.id, one]));
  const find = (id: string): Amending => {
    const one = counting.get(id);
    return { body: one?.body, counts: one?.placed.entry, recorded: true };
  };
  const found: Found[] = [];
  for (const one of findingsIn(evidence, "all")) {
    const reading = readingInQuestion(one, evidence);
    const reasons = reading === undefined ? [] : yield* reasonsOf(reading, at);
    found.push(reasons.length === 0 ? one : { ...one, settledBy: [...reasons, ...one.settledBy] });
  }
  return { found, find };
}

/** What would explain a reading that disagrees, likeliest first. */
function* reasonsOf(reading: TotalJudged, at: Coordinates): Inquiry<Settlement[]> {
  if (reading.comparison.agrees) return [];
  const ranked = yield* reasonsFor(reading, { known: at.known, facts: at.facts, now: at.until });
  return ranked.map(({ reason }) => ({ text: reason.sentence, proposals: reason.proposals }));
}

/**
 * What a request raised, changed or settled: of the rules that need no more than what it changes and how
 * things stand now. What a device set down for later is not judged before its time.
 */
export function* raisedBy(appended: Appended, now: Instant, chain: `encounter/${string}`) {
  const { sides, facts, head, added, changedFrom } = appended;
  if (sides === null) return [];
  const before: Known = { chain, upTo: head.sequence - added.length, staged: [], stagedFrom: null };
  const touched = {
    charts: yield* chartsTouched(before, appended, now),
    signed: yield* signedTouched(before, appended, now),
  };
  const after: Known = { ...before, staged: appended.staged, stagedFrom: changedFrom };
  const beside = function* (both: Sides): Inquiry<Beside> {
    const { settingsAt } = facts.conventions;
    const segments = {
      before: yield* segmentsOf(both.before, before, settingsAt),
      after: yield* segmentsOf(both.after, after, settingsAt),
    };
    return { ...touched, segments };
  };
  let named = differing(sides, yield* beside(sides), facts, now);
  if (sides.end <= now && [...named.raised, ...named.settled].some(([, found]) => mayBeAnswered(found))) {
    const onwards = yield* followedOn(before, sides, facts, now);
    named = differing(onwards, yield* beside(onwards), facts, now);
  }
  const { raised, settled } = named;
  if (raised.length + settled.length === 0) return [];
  const known = { chain, upTo: head.sequence, staged: [], stagedFrom: null };
  const acknowledged = yield* acknowledgements(known);
  const find = (): Amending => ({ body: undefined, recorded: true });
  return [
    ...raised.map(([id, found]) => stated(found, acknowledged.get(id), facts, find)),
    ...settled.map(([id, found]) => findingText(found, "settled", facts, find, acknowledged.get(id))),
  ];
}

/** The segments among what came to light, judged by what flowed in them as it is known. */
function* segmentsOf(
  { events }: Side,
  known: Known,
  settingsAt: SettingsAt,
): Inquiry<readonly SegmentJudged[]> {
  const { segments } = eventsCollected(events);
  const [first] = segments;
  if (first === undefined) return [];
  const start = earliest(first.start, ...segments.map((one) => one.start));
  const end = latest(first.at, ...segments.map((one) => one.at));
  const { collected } = yield* courseOf(known, { start, end }, settingsAt);
  return segmentsJudged({ ...collected, segments });
}

/** What is judged beside what came to light, on both sides of a request. */
interface Beside {
  readonly charts: Both<readonly ChartCompared[]>;
  readonly signed: Both<readonly SignedSpan[]>;
  readonly segments: Both<readonly SegmentJudged[]>;
}

function differing(
  sides: Sides,
  { charts, signed, segments }: Beside,
  facts: Coordinates["facts"],
  now: Instant,
) {
  const [before, after] = (["before", "after"] as const).map((side) => ({
    charts: charts[side],
    signed: signed[side],
    segments: segments[side],
  }));
  const was = foundOn(sides.before, before!, facts, now);
  const is = foundOn(sides.after, after!, facts, now);
  return {
    raised: [...is].filter(([id, found]) => !sameAs(found, was.get(id))),
    settled: [...was].filter(([id]) => !is.has(id)),
  };
}

/** What is read, looked at or hung later may answer, or be part of it. */
const ANSWERED_LATER: ReadonlySet<Found["code"]> = new Set([
  "reading-disagrees",
  "unrecorded-clear",
  "bag-unaccounted",
  "rate-implausible",
  "entry-without-effect",
]);

function mayBeAnswered({ code }: Found): boolean {
  return ANSWERED_LATER.has(code);
}

/** How long after a late change's effect something read may still answer what it raises, as far as is looked. */
const ANSWERED_WITHIN = 2 * DAY;

/** Both sides of a late change with what came to light after its effect had ended, up to now or two days on. */
function* followedOn(
  known: Known,
  { before, after, end }: Sides,
  { conventions: { settingsAt } }: Coordinates["facts"],
  now: Instant,
): Inquiry<Sides> {
  const to = earliest(later(now, 1), later(end, ANSWERED_WITHIN));
  const stretch = yield* stretchBetween(known, settingsAt, end, to);
  const events: Event[] = [];
  const isAfter = ({ placed }: CountingEntry) => placed.entry.at >= end;
  let { state } = stretch;
  for (const one of stretch.entries) {
    state = follow(state, one.placed, settingsAt, isAfter(one) ? listing(events) : NOWHERE);
  }
  const entries = stretch.entries.filter(isAfter).map(reported);
  const onwards = (side: Side): Side => ({
    ...side,
    events: [...side.events, ...events],
    entries: [...side.entries, ...entries],
  });
  return { before: onwards(before), after: onwards(after), end: to };
}

function sameAs(found: Found, before: Found | undefined): boolean {
  return before !== undefined && before.sentence === found.sentence && before.volume === found.volume;
}

function foundOn(
  side: Side,
  { charts, signed, segments }: Pick<Evidence, "charts" | "signed" | "segments">,
  facts: Coordinates["facts"],
  now: Instant,
): Map<string, Found> {
  // Rules that run at recording find on these alone; before an entry that is the last there are none.
  if (![side.entries, side.events, charts, signed].some(({ length }) => length > 0)) return new Map();
  const { conventions } = facts;
  const happened = side.events.filter(({ what }) => !("at" in what) || what.at <= now);
  const evidence: Evidence = {
    from: side.entries[0]?.placed.entry.at ?? now,
    until: now,
    settingsAt: conventions.settingsAt,
    collected: eventsCollected(happened),
    segments: segments.filter(({ at }) => at <= now),
    entries: side.entries.filter(({ placed }) => placed.entry.at <= now),
    before: side.before,
    state: side.state,
    shiftEnds: [],
    shiftAt: (at) => nameOf(shiftOf(facts, at)),
    leftIn: null,
    signed,
    charts,
    words: wordsAt(now, (at) => conventions.stretchAt(at).zone),
  };
  return new Map(findingsIn(evidence, "recording").map((found) => [idOfFinding(found), found]));
}

/** Acknowledges a finding that is there: one entry of the ledger's own. */
export function* acknowledge(
  request: Request & { readonly encounter: string; readonly finding: string; readonly reason: string },
): Answered {
  const { encounter, finding, reason, now } = request;
  const chain = chainOf(encounter);
  const resolved = yield* coordinates(chain, {}, now);
  if (resolved.refused) return nothing(resolved);
  const at = resolved.done;
  const { found, find } = yield* foundIn(at);
  const one = found.find((candidate) => idOfFinding(candidate) === finding);
  if (one === undefined) return nothing(refused({ problem: "not-found", what: "finding", id: finding }));
  const text = findingText(one, "acknowledged", at.facts, find);
  const body: AcknowledgedText = {
    kind: "finding-acknowledged",
    at: formatInstant(now, at.facts.conventions.stretchAt(now).zone),
    finding,
    reason,
    code: one.code,
    severity: one.severity,
    concerns: text.concerns,
    sentence: one.sentence,
    ...(one.volume === null ? {} : { volume: volumeText(one.volume) }),
  };
  const write = yield* adding(chain, body, request);
  const { author } = request;
  const by = { id: author.id, name: author.name, role: author.role };
  const { id, sequence, digest } = write.row;
  const told = findingText(one, "acknowledged", at.facts, find, { id, recordedAt: now, by, body });
  const answer = { ...told, ledger: { sequence, digest } };
  return { writes: [write], answer: done({ status: 201, body: JSON.stringify(answer), sequence, id: null }) };
}
