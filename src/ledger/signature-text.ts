/** Signatures as JSON: what was signed, by whom, and figure by figure what is another now and by which entries. */

import type { Inquiry } from "../store/store.js";
import { type Instant, later } from "../time/instant.js";
import { shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";
import type { FigureOf } from "../wire/signed.js";
import type { Coordinates } from "./coordinates.js";
import { figuresFrom, figuresOf, figuresOver, type Moved } from "./figures.js";
import type { Signature } from "./signatures.js";
import { causesOf, rowsBetween, stepsBetween } from "./steps.js";
import type { Tile } from "./tiles.js";

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

/** Signatures in order of recording; `tiles` are those of them that stand. */
export function* signatureTexts(
  at: Coordinates,
  signatures: readonly Signature[],
  tiles: readonly Tile[],
): Inquiry<object[]> {
  const texts: object[] = [];
  for (const signature of signatures) {
    const tile = tiles.find((one) => one.signature === signature);
    const state = tile === undefined ? "replaced" : tile.moved.length > 0 ? "corrected" : "final";
    const differences = tile === undefined ? [] : yield* differencesOf(at, tile);
    texts.push({ ...signatureText(signature, at), state, differences });
  }
  return texts;
}

function signatureText({ id, sequence, recordedAt, by, body }: Signature, at: Coordinates) {
  const { from, at: to, digest, calculation, open, unknown, conventions, remark } = body;
  const recorded: Instant = recordedAt;
  return {
    id,
    sequence,
    signedAt: formatInstant(recorded, at.facts.conventions.stretchAt(recorded).zone),
    by,
    from,
    to,
    digest,
    calculation,
    ...(remark === undefined ? {} : { remark }),
    open,
    unknown,
    conventions,
  };
}

/** What was signed and what it is now, each figure with the entries recorded since that moved it. */
function* differencesOf(at: Coordinates, { signature, signed, moved }: Tile): Inquiry<object[]> {
  if (moved.length === 0) return [];
  const { chain, upTo } = at.known;
  const rows = yield* rowsBetween(chain, signature.sequence, upTo);
  const now = figuresOf(yield* figuresOver(at, signed.intervals), signed.intervals);
  const steps = yield* stepsBetween(at, rows, figuresFrom(signature.body.figures), now);
  return moved.map((one) => {
    const { of } = one.row;
    const values = { signed: valueText(one.before, of), now: valueText(one.after, of) };
    return { ...placeText(one, at), ...values, causes: causesOf(one, steps) };
  });
}
