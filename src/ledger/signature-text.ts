/** Signatures as JSON: what was signed, by whom, and figure by figure what is another now and by which entries. */

import type { Inquiry } from "../store/store.js";
import { type Instant, later } from "../time/instant.js";
import { shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";
import type { FigureOf } from "../wire/signed.js";
import type { Coordinates } from "./coordinates.js";
import { figuresFrom, figuresOf, figuresOver, type Moved, unmeasuredIn } from "./figures.js";
import type { Signature } from "./signatures.js";
import { causesOf, figuresAsOf, rowsBetween, stepsBetween } from "./steps.js";
import { isSound, type Tile } from "./tiles.js";

/** Where a figure stands, for who reads it. */
export function placeText({ row, interval }: Pick<Moved, "row" | "interval">, at: Coordinates) {
  const { stretches } = at.facts.conventions;
  const start = formatInstant(interval.start, shiftAt(stretches, interval.start).zone);
  const end = formatInstant(interval.end, shiftAt(stretches, later(interval.end, -1)).zone);
  return { row, start, end };
}

/** A figure's value: mL, or how often nobody measured. */
export function valueText(value: number, of: FigureOf): number {
  return of === "unmeasured" ? value : millilitres(value);
}

/** Signatures in order of recording; `tiles` are what they stand for of the time that is asked about. */
export function* signatureTexts(
  at: Coordinates,
  signatures: readonly Signature[],
  tiles: readonly Tile[],
): Inquiry<object[]> {
  const texts: object[] = [];
  for (const signature of signatures) {
    const own = tiles.filter((tile) => tile.signature === signature);
    const state = own.length === 0 ? "replaced" : own.every(isSound) ? "final" : "corrected";
    const stands = own.map((tile) => standsText(tile, at));
    const differences = yield* differencesOf(at, own);
    texts.push({ ...signatureText(signature, at), state, stands, differences });
  }
  return texts;
}

function standsText({ start, end, piece, ...tile }: Tile, { facts }: Coordinates) {
  const time = (instant: Instant) => formatInstant(instant, facts.conventions.stretchAt(start).zone);
  return {
    ...{ from: time(start), to: time(end), unit: piece.unit },
    state: isSound(tile) ? "final" : "corrected",
    ...(tile.lost === null ? {} : { lost: tile.lost }),
  };
}

function signatureText({ id, sequence, recordedAt, by, body }: Signature, at: Coordinates) {
  const { unit, from, at: to, digest, calculation, open, unknown, conventions, remark } = body;
  const recorded: Instant = recordedAt;
  return {
    id,
    sequence,
    signedAt: formatInstant(recorded, at.facts.conventions.stretchAt(recorded).zone),
    by,
    unit,
    from,
    to,
    digest,
    calculation,
    ...(remark === undefined ? {} : { remark }),
    open,
    unknown,
    unmeasured: unmeasuredIn(figuresFrom(body.figures)),
    conventions,
  };
}

/** What was signed and what it is now, each figure with the entries recorded since that moved it; tiles of one signature. */
function* differencesOf(at: Coordinates, tiles: readonly Tile[]): Inquiry<object[]> {
  const changed = tiles.filter(({ moved }) => moved.length > 0);
  if (changed.length === 0) return [];
  const { signature } = changed[0]!;
  const { chain, upTo } = at.known;
  const rows = yield* rowsBetween(chain, signature.sequence, upTo);
  const intervals = changed.flatMap((tile) => tile.intervals);
  const now = figuresOf(yield* figuresOver(at, intervals), intervals);
  // As this version of the calculation makes what was signed: what it makes otherwise no entry has moved.
  const then = yield* figuresAsOf(at, signature.sequence, intervals);
  const steps = yield* stepsBetween(at, rows, then, now);
  return changed.flatMap(({ moved }) =>
    moved.map((one) => {
      const { of } = one.row;
      const values = { signed: valueText(one.before, of), now: valueText(one.after, of) };
      return { ...placeText(one, at), ...values, causes: causesOf(one, steps) };
    }),
  );
}
