/**
 * Why a figure is what it is: the deliveries, readings and entries that one volume is made of, in a
 * sentence and as data. The figure explained is the one that the volumes of that interval show.
 */

import { stepOf } from "../conventions/settings.js";
import { amountOf } from "../infusion/amount.js";
import type { Dividing } from "../infusion/cells.js";
import { BASES } from "../infusion/delivery.js";
import { type VolumeRow, volumeRows } from "../infusion/volumes.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, type Period } from "../time/instant.js";
import { shiftAt, shiftsIn } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";
import { chainOf } from "./acknowledgements.js";
import { intakesOf } from "./answers.js";
import { type Coordinates, coordinates, written } from "./coordinates.js";
import { explainedBy, heldOver, othersOver } from "./explanation-causes.js";
import { partsOf, type RowAsked } from "./explanation-parts.js";
import { listed, sentenceOf } from "./explanation-sentence.js";
import { partsText } from "./explanation-text.js";
import { labelsOf } from "./labels.js";
import type { Asked, PeriodAsked } from "./ledger.js";
import { intervalsOf, periodOf } from "./period.js";
import { done, type Outcome, refused } from "./refusal.js";
import { turnsOver } from "./turns.js";
import { windowOf } from "./window.js";
import { wordsAt } from "./words.js";

export interface ExplanationQuery extends Asked, RowAsked {
  readonly period: PeriodAsked;
  /** Whole microlitres; absent, what the unit has set. */
  readonly precision?: number | undefined;
}

/** What one figure is made of. A key that no row of the shift has is refused; a row shown as 0 is explained. */
export function* explanation(
  encounter: string,
  query: ExplanationQuery,
  now: Instant,
): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const at = resolved.done;
  const { stretches } = at.facts.conventions;
  const period = periodOf(query.period, stretches);
  if (period.refused) return period;
  const divided = intervalsOf(period.done, "whole", stretches);
  if (divided.refused) return divided;
  const made = yield* madeOf(at, period.done, divided.done.anchors, query);
  if (made === undefined) {
    const detail = "In this period there is no such row.";
    return refused({ problem: "bad-parameter", errors: [{ parameter: "row", code: "unknown-key", detail }] });
  }
  const { zone } = shiftAt(stretches, period.done.start);
  return done({
    zone,
    from: formatInstant(period.done.start, zone),
    to: formatInstant(period.done.end, zone),
    ...written(at),
    ...made,
  });
}

function* madeOf(at: Coordinates, period: Period, anchors: readonly Instant[], query: ExplanationQuery) {
  const { known, until, facts } = at;
  const { settingsAt, stretches, stretchAt } = facts.conventions;
  const { charted, dividing, rows: own } = yield* chartedIn(at, period, anchors, query);
  const rows = own.length > 0 ? own : yield* withNothing(at, period, anchors, query);
  if (rows.length === 0) return undefined;
  const labels = yield* labelsOf(known, query.per, rows);
  const come = { start: period.start, end: earliest(period.end, until) };
  const parts = partsOf(charted, come, query, dividing);
  const begun = period.start < until;
  const turns = begun
    ? yield* turnsOver(known, settingsAt, come, parts.channels, explainedBy(parts, come))
    : { rates: [], stands: [] };
  const held = parts.deliveries.length > 0 ? [] : heldOver(come, turns, parts.channels);
  const others = begun ? othersOver(parts, turns) : [];
  const figure = { label: listed([...new Set(labels)]), ...summed(rows) };
  const words = wordsAt(until, (instant) => stretchAt(instant).zone);
  return {
    row: { per: query.per, key: query.row, label: figure.label },
    volume: figure.volume === null ? null : millilitres(figure.volume),
    computed: figure.computed === null ? null : millilitres(figure.computed),
    basis: figure.basis,
    unknown: figure.unknown / 60_000,
    sentence: sentenceOf(figure, begun ? come : period, parts, { held, others }, words),
    ...partsText(
      parts,
      { turns, held, others, entries: charted.entries },
      come,
      shiftAt(stretches, period.start).zone,
    ),
  };
}

/** What is charted in a period since its shift began, and the rows of it that were asked for. */
function* chartedIn(
  { known, until, facts }: Coordinates,
  period: Period,
  anchors: readonly Instant[],
  { per, row, precision }: ExplanationQuery,
) {
  const { conventions, admittedAt } = facts;
  const { settingsAt, settingsOfAmount } = conventions;
  const window = yield* windowOf(known, { from: anchors[0]!, to: period.end, until }, settingsAt);
  const amounts = intakesOf(window.entries).flatMap(
    (one) => amountOf(one, settingsOfAmount(one.entry.at)) ?? [],
  );
  const charted = { ...window, amounts };
  const dividing: Dividing = { intervals: [period], anchors, until, admittedAt };
  const given = precision === undefined ? undefined : stepOf(precision);
  const stepOfShift = (shift: Instant) => given ?? settingsAt(shift).precision;
  const rows = volumeRows(charted, { ...dividing, stepOf: stepOfShift, per });
  return { charted, dividing, rows: rows.filter(({ key }) => key === row) };
}

/** The rows that the shift has and the period has nothing of: there they are shown as 0. */
function* withNothing(
  at: Coordinates,
  period: Period,
  anchors: readonly Instant[],
  query: ExplanationQuery,
): Inquiry<VolumeRow[]> {
  const shifts = shiftsIn(at.facts.conventions.stretches, period);
  const whole = { start: shifts[0]!.start, end: shifts.at(-1)!.end };
  const { rows } = yield* chartedIn(at, whole, anchors, query);
  const [nothing, basis] = period.start < at.until ? ([0, "computed"] as const) : ([null, null] as const);
  return rows.map((row) => ({
    ...row,
    volumes: [nothing],
    computed: [nothing],
    bases: [basis],
    since: [null],
    unknown: [0],
    total: 0,
  }));
}

/** The rows of one key as one figure, on the weakest of what they rest on. */
function summed(rows: readonly VolumeRow[]) {
  const sum = (of: (row: VolumeRow) => number | null | undefined) =>
    rows.reduce((whole, row) => whole + (of(row) ?? 0), 0);
  const begun = rows.some(({ volumes }) => volumes[0] !== null);
  const bases = rows.flatMap((row) => row.bases[0] ?? []);
  return {
    volume: begun ? sum(({ volumes }) => volumes[0]) : null,
    computed: begun ? sum(({ computed }) => computed[0]) : null,
    basis: BASES.findLast((basis) => bases.includes(basis)) ?? null,
    unknown: sum(({ unknown }) => unknown[0]),
  };
}
