/**
 * Intake as postings: what channels gave the patient, less what was lost, and what was measured. What irrigates
 * is no intake; it comes off the output of its site.
 */

import { figuresOf } from "../infusion/cumulative.js";
import type { Delivery } from "../infusion/delivery.js";
import type { Fluid } from "../infusion/entry.js";
import type { UnknownSpan } from "../infusion/flow.js";
import { minus, NOTHING, shownAs, type Volume } from "../infusion/quantity.js";
import type { Instant } from "../time/instant.js";
import { CERTAIN } from "./certainty.js";
import type { ChartedIntake, Unmeasured } from "./charted.js";
import type { Ground, Place } from "./ground.js";
import type { Given } from "./inflow.js";
import type { Losses } from "./lost.js";
import { isCounted, NO_PART, type Part, type Posting } from "./posting.js";

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
      return ground.placesIn(span).map((place) => posted(place, category, part, UNKNOWN));
    }),
    ...taken.unattributed.flatMap((one) => {
      const place = ground.placeAt(one.at, null, "ends");
      const part = { ...NO_PART, line: one.line, item: one.fluid?.name ?? null, channel: one.channel };
      const volume = minus(one.volume, losses.takenOffAmount(one));
      const certainty = { more: false, less: losses.unknown(one).length > 0 };
      return place
        ? [posted(place, one.fluid?.category ?? null, part, { volume, certainty, since: one.from })]
        : [];
    }),
    ...taken.amounts.flatMap((one) => ofAmount(one, { volume: one.volume, since: one.from }, ground)),
    ...taken.unmeasured.flatMap((one) => ofAmount(one, { ...UNKNOWN, leftOut: 1, since: one.from }, ground)),
  ];
}

const UNKNOWN = { certainty: { more: true, less: false } };

function* ofRow(row: readonly Delivery[], losses: Losses, ground: Ground): Generator<Posting> {
  const { category, part } = headingOf(row[0]!);
  const takenOff = (from: Instant, to: Instant) => losses.takenOff(row, from, to);
  for (const { cell, shown, exact } of figuresOf(row, ground.cells, ground.asked.stepOf, takenOff)) {
    const place = ground.placeOf(cell);
    if (place !== undefined) yield { ...posted(place, category, part, {}), shown, exact };
  }
  for (const span of losses.unknown(row)) {
    for (const place of ground.placesIn(span)) {
      yield posted(place, category, part, { certainty: { more: false, less: true } });
    }
  }
}

function ofAmount(
  { entry, at, category, line, item }: Unmeasured,
  what: Parameters<typeof posted>[3],
  ground: Ground,
): Posting[] {
  const place = ground.placeAt(at, entry);
  return place === undefined ? [] : [posted(place, category, { ...NO_PART, line, item }, what)];
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
  what: Partial<Pick<Posting, "certainty" | "leftOut" | "since">> & { readonly volume?: Volume },
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
  };
}
