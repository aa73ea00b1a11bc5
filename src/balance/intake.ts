/**
 * Intake as postings: what channels gave the patient, less what was lost, and what was measured. What irrigates
 * is no intake; it comes off the output of its site.
 */

import { figuresOf, standingFigures, standingRows } from "../infusion/cumulative.js";
import type { Basis, Delivery, Unattributed } from "../infusion/delivery.js";
import type { Fluid } from "../infusion/entry.js";
import type { UnknownSpan } from "../infusion/flow.js";
import { minus, NOTHING, shownAs, type Volume } from "../infusion/quantity.js";
import type { Amount } from "../infusion/volumes.js";
import { earliest, type Instant, latest } from "../time/instant.js";
import { CERTAIN, type Certainty, together, UNCERTAIN } from "./certainty.js";
import type { ChartedIntake, Unmeasured } from "./charted.js";
import type { Ground, Place } from "./ground.js";
import type { Given } from "./inflow.js";
import type { Losses } from "./lost.js";
import { chartedBy, isCounted, NO_PART, type Origin, type Part, type Posting } from "./posting.js";

/** All that is intake, and what of it did not reach the patient. */
export interface TakenIn extends Given, Pick<ChartedIntake, "amounts" | "unmeasured"> {
  readonly losses: Losses;
}

export function intakePostings(taken: TakenIn, ground: Ground): Posting[] {
  const { losses } = taken;
  return [
    ...taken.rows.flatMap((row) => [...ofRow(row, losses, ground)]),
    ...taken.unknown.flatMap((span) => {
      const { category, part } = headingOf(span);
      return ground.placesIn(span).map((place) => posted(place, category, part, originOf(span), UNKNOWN));
    }),
    ...standingRows(taken.unattributed).flatMap((row) => ofStanding(row, losses, ground)),
    ...taken.amounts.flatMap((one) =>
      ofAmount(one, { volume: one.volume, since: one.from }, ground, one.share),
    ),
    ...taken.unmeasured.flatMap((one) => ofAmount(one, { ...UNKNOWN, leftOut: 1, since: one.from }, ground)),
  ];
}

function certaintyOf(basis: Basis): Certainty {
  return basis === "disputed" ? UNCERTAIN : CERTAIN;
}

type What = Partial<Pick<Posting, "certainty" | "leftOut" | "since">> & { readonly volume?: Volume };

const UNKNOWN: What = { certainty: { more: true, less: false } };

function* ofRow(row: readonly Delivery[], losses: Losses, ground: Ground): Generator<Posting> {
  const { category, part } = headingOf(row[0]!);
  const takenOff = (from: Instant, to: Instant) => losses.takenOff(row, from, to);
  for (const figure of figuresOf(row, ground.cells, ground.asked.stepOf, takenOff)) {
    const { cell, deliveries, shown, exact } = figure;
    const certainty = deliveries.map(({ basis }) => certaintyOf(basis)).reduce(together);
    const place = ground.placeOf(cell);
    if (place === undefined) continue;
    const origin = deliveredBy(deliveries, cell.end);
    yield { ...posted(place, category, part, origin, { certainty }), shown, exact };
  }
  for (const span of losses.unknown(row)) {
    for (const place of ground.placesIn(span)) {
      yield posted(place, category, part, originOf(row[0]!), { certainty: { more: false, less: true } });
    }
  }
}

/** What stands at readings, rounded on what the row came to since the shift began, and not one by one. */
function ofStanding(row: readonly Unattributed[], losses: Losses, ground: Ground): Posting[] {
  const kept = row.map((amount) => {
    return { amount, at: amount.at, volume: minus(amount.volume, losses.takenOffAmount(amount)) };
  });
  const cellOf = ({ at }: { readonly at: Instant }) => ground.cellAt(at, "ends");
  return standingFigures(kept, cellOf, ground.asked.stepOf).flatMap(({ one, shown }): Posting[] => {
    const { amount, at, volume } = one;
    const place = ground.placeAt(at, null, "ends");
    if (place === undefined) return [];
    const { line, fluid, channel, entry, from: since } = amount;
    const part = { ...NO_PART, line, item: fluid?.name ?? null, channel };
    const origin = { ...originOf(amount), entries: [entry] };
    const lost = { more: false, less: losses.unknown(amount).length > 0 };
    const certainty = together(certaintyOf(amount.basis), lost);
    const what = { volume, since, certainty };
    return [{ ...posted(place, fluid?.category ?? null, part, origin, what), shown }];
  });
}

function ofAmount(
  { entry, at, category, line, item, whole }: Unmeasured & Partial<Pick<Amount, "whole">>,
  what: What,
  ground: Ground,
  share = NO_PART.share,
): Posting[] {
  const place = ground.placeAt(at, entry);
  if (place === undefined) return [];
  const part = { ...NO_PART, line, item, share };
  return [posted(place, category, part, chartedBy(entry, at, whole ?? null), what)];
}

/** What a channel gave in a cell: begun by which entries, and until when. */
function deliveredBy(deliveries: readonly Delivery[], end: Instant): Origin {
  const entries = [...new Set(deliveries.map(({ programme }) => programme.split("/")[0]!))];
  return {
    ...originOf(deliveries[0]!),
    entries,
    at: earliest(end, latest(...deliveries.map((one) => one.end))),
  };
}

function originOf(
  one: Pick<UnknownSpan, "channel" | "total" | "bag"> & ({ end: Instant } | { at: Instant }),
): Origin {
  const { channel, total, bag } = one;
  return { entries: [], at: "end" in one ? one.end : one.at, channel, total, bag, whole: null };
}

function headingOf({ channel, line, role, fluid }: Pick<UnknownSpan, "channel" | "line" | "role" | "fluid">) {
  const item = fluid?.name ?? null;
  const part: Part = { ...NO_PART, line, role, item, channel: fluid === null ? channel : null };
  return { category: (fluid as Fluid | null)?.category ?? null, part };
}

function posted(
  { interval, outside, step, settings }: Place,
  category: Fluid["category"] | null,
  part: Part,
  origin: Origin,
  what: What,
): Posting {
  const exact = what.volume ?? NOTHING;
  return {
    side: "intake",
    category,
    part,
    interval,
    outside,
    shown: shownAs(exact, step),
    exact,
    certainty: what.certainty ?? CERTAIN,
    since: what.since ?? null,
    leftOut: what.leftOut ?? 0,
    counts: isCounted(category, settings),
    origin,
  };
}
