/**
 * One shift of a stay in one answer: what was delivered, what the devices should show, the balance, what is
 * found and open, how it is signed, and the digest of what would be signed next.
 */

import type { Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { hoursIn } from "../time/hours.js";
import { earliest, type Instant, later, type Period } from "../time/instant.js";
import { type ShiftSpan, shiftAt, shiftsIn } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { readInstant } from "../wire/instant.js";
import { chainOf } from "./acknowledgements.js";
import { volumesOver } from "./answers.js";
import { balanceOver } from "./balance.js";
import { balanceText } from "./balance-text.js";
import { bedsideAt } from "./bedside.js";
import { type Coordinates, coordinates, written } from "./coordinates.js";
import { nameOf } from "./evidence.js";
import { digestOfFigures, type Figured, figuresOver, unmeasuredIn } from "./figures.js";
import type { FindingText } from "./finding-text.js";
import { toldOf } from "./findings.js";
import { lineLabels } from "./labels.js";
import type { Asked } from "./ledger.js";
import { intervalsOf } from "./period.js";
import { done, type Outcome, refused } from "./refusal.js";
import { BEFORE_ADMISSION } from "./sense.js";
import { type Laid, laidOut, nextOf, stateOf, theirs } from "./signable.js";
import { signatureTexts } from "./signature-text.js";
import { type Signature, signaturesOver } from "./signatures.js";
import { type Tile, tilesOf } from "./tiles.js";

export interface ShiftQuery extends Asked {
  /** Such as `2026-03-04/day`. */
  readonly shift: string;
  /** The units for whose time the caller may sign: null for every unit, none for who does not sign. */
  readonly units: readonly string[] | null;
}

export function* shift(encounter: string, query: ShiftQuery, now: Instant): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const at = resolved.done;
  const named = namedShift(at, query.shift);
  if (named === undefined) return refused({ problem: "not-found", what: "shift", id: query.shift });
  const { signatures, tiles, laid } = yield* signedOf(at, named);
  const next = yield* toSign(at, laid, query.units);
  const found = (yield* toldOf(at)).filter((one) => concerns(one, named));
  const time = (instant: Instant) => formatInstant(instant, named.zone);
  return done({
    ...{ shift: query.shift, date: named.date, name: named.name, label: named.label ?? named.name },
    start: time(named.start),
    end: time(named.end),
    zone: named.zone,
    ...written(at),
    state: stateOf(laid),
    ...(yield* figuresAnswer(at, named)),
    findings: found.filter(({ state }) => state !== "settled"),
    openQuestions: openQuestions(found).map(({ id }) => id),
    unknown: next?.figured.unknown ?? [],
    unmeasured: next === null ? [] : unmeasuredIn(next.figured),
    signatures: yield* signatureTexts(at, signatures, tiles),
    toSign:
      next === null
        ? null
        : { from: time(next.from), to: time(next.to), digest: digestOfFigures(next.figured) },
  });
}

/** A shift by its name: between its pieces the patient may have been in a unit with other shifts. */
export interface NamedShift extends ShiftSpan {
  readonly pieces: readonly ShiftSpan[];
}

/** The shift of a stay by its date and name; undefined where the stay has none such by now. */
export function namedShift({ facts, until }: Coordinates, name: string): NamedShift | undefined {
  const { admittedAt, dischargedAt, conventions } = facts;
  const period = {
    start: later(admittedAt, -BEFORE_ADMISSION),
    end: later(earliest(until, dischargedAt ?? until), DAY),
  };
  if (period.start >= period.end) return undefined;
  const pieces = shiftsIn(conventions.stretches, period).filter((one) => nameOf(one) === name);
  const [first, last] = [pieces[0], pieces.at(-1)];
  return first === undefined ? undefined : { ...first, end: last!.end, pieces };
}

export interface SignedShift {
  /** In order of recording, replaced ones too. */
  readonly signatures: readonly Signature[];
  readonly tiles: readonly Tile[];
  readonly laid: readonly Laid[];
}

/** How a shift is signed; `also` is a signature about to be recorded. */
export function* signedOf(
  at: Coordinates,
  { start, end, pieces }: NamedShift,
  also: readonly Signature[] = [],
) {
  const reaching = [...(yield* signaturesOver(at.known, { from: start, to: end })), ...also];
  const signatures = reaching.filter(({ from, to }) =>
    pieces.some((one) => from < one.end && one.start < to),
  );
  const tiles = yield* tilesOf(at, signatures, pieces);
  return { signatures, tiles, laid: laidOut(pieces, tiles, at.facts) } satisfies SignedShift;
}

export interface ToSign {
  readonly piece: ShiftSpan;
  readonly from: Instant;
  readonly to: Instant;
  readonly figured: Figured;
}

/** What the next signature of staff of some units would cover, as far as the shift has come; null where that is nothing. */
export function* toSign(
  at: Coordinates,
  laid: readonly Laid[],
  units: readonly string[] | null,
): Inquiry<ToSign | null> {
  for (const one of theirs(laid, units, at.facts, at.until)) {
    const next = nextOf(one, at.until);
    if (next !== undefined) return yield* toBeSigned(at, one.piece, next);
  }
  return null;
}

/** A span of a piece with the figures that a signature of it would be over. */
export function* toBeSigned(at: Coordinates, piece: ShiftSpan, { start, end }: Period): Inquiry<ToSign> {
  const hours = hoursIn(at.facts.conventions.stretches, { start, end });
  return { piece, from: start, to: end, figured: yield* figuresOver(at, hours) };
}

/** What is found of a span: it lies in it, reaches into it, or is about the shift as such. */
export function concerns(
  { concerns }: FindingText,
  { start, end }: { start: Instant; end: Instant },
): boolean {
  const from = readInstant(concerns.start);
  const to = concerns.end === undefined ? from : readInstant(concerns.end);
  return from < end && (from >= start || to > start);
}

/** Questions nobody has answered or acknowledged. */
export function openQuestions(found: readonly FindingText[]): FindingText[] {
  return found.filter(({ severity, state }) => severity === "question" && state === "open");
}

/** Volumes by hour per line, running totals, and the balance by hour. */
function* figuresAnswer(at: Coordinates, shift: ShiftSpan) {
  const { stretches } = at.facts.conventions;
  const period = { start: shift.start, end: shift.end };
  const divided = intervalsOf(period, "hour", stretches);
  if (divided.refused) throw new RangeError(`no hours in the shift ${shift.date}/${shift.name}`);
  const { intervals } = divided.done;
  const volumes = yield* volumesOver(at, period, divided.done, { per: "line" });
  const made = yield* balanceOver(at, period, intervals, {});
  const lines = made.balance.intake.rows.flatMap(({ parts }) => parts.flatMap(({ line }) => line ?? []));
  const labels = yield* lineLabels(at.known, [...new Set(lines)]);
  const stands = earliest(at.until, shift.end);
  const totals = {
    at: formatInstant(stands, shiftAt(stretches, stands).zone),
    ...(yield* bedsideAt(at, stands)),
  };
  return {
    volumes,
    totals,
    balance: balanceText(made, { at, period, intervals, labels, since: null }),
  };
}
