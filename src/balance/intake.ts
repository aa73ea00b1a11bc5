/**
 * Intake as postings: what channels delivered, less what was lost, and what was measured. What irrigates is no
 * intake; it stands at its site until that is emptied.
 */

import { figuresOf, finestRows } from "../infusion/cumulative.js";
import type { Delivery, Unattributed } from "../infusion/delivery.js";
import type { DeliveryLost, Fluid, Placed } from "../infusion/entry.js";
import type { UnknownSpan } from "../infusion/flow.js";
import { NOTHING, shownAs, type Volume } from "../infusion/quantity.js";
import type { Amount } from "../infusion/volumes.js";
import type { Instant } from "../time/instant.js";
import { CERTAIN } from "./certainty.js";
import type { Ground, Place } from "./ground.js";
import { type Losses, lossesOf } from "./lost.js";
import { isCounted, NO_PART, type Part, type Posting } from "./posting.js";

export interface TakenIn {
  readonly deliveries: readonly Delivery[];
  readonly unattributed: readonly Unattributed[];
  readonly unknown: readonly UnknownSpan[];
  readonly amounts: readonly Amount[];
  /** Taken in, in a measure that the unit does not know. */
  readonly unmeasured: readonly Pick<Amount, "entry" | "at" | "from" | "category" | "line" | "item">[];
  readonly lost: readonly Placed<DeliveryLost>[];
  /** The lines that irrigate. */
  readonly irrigating: ReadonlyMap<string, string>;
}

export function intakePostings(
  taken: TakenIn,
  ground: Ground,
): { readonly postings: Posting[]; readonly losses: Losses["told"] } {
  const isIntake = ({ line }: { readonly line: string | null }) =>
    line === null || !taken.irrigating.has(line);
  const rows = finestRows(taken.deliveries.filter(isIntake));
  const losses = lossesOf(taken.lost, rows);
  const postings = [
    ...rows.flatMap((row) => [...ofRow(row, losses, ground)]),
    ...taken.unknown.filter(isIntake).flatMap((span) => {
      const { category, part } = headingOf(span);
      return ground.placesIn(span).map((place) => posted(place, category, part, UNKNOWN));
    }),
    ...taken.unattributed.filter(isIntake).flatMap((one) => {
      const place = ground.placeAt(one.at, null, "ends");
      const part = { ...NO_PART, line: one.line, item: one.fluid?.name ?? null, channel: one.channel };
      return place
        ? [posted(place, one.fluid?.category ?? null, part, { volume: one.volume, since: one.from })]
        : [];
    }),
    ...taken.amounts.flatMap((one) =>
      ofAmount(one, { volume: one.volume, since: one.from }, ground, one.share),
    ),
    ...taken.unmeasured.flatMap((one) => ofAmount(one, { ...UNKNOWN, leftOut: 1, since: one.from }, ground)),
  ];
  return { postings, losses: losses.told };
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
  { entry, at, category, line, item }: TakenIn["unmeasured"][number],
  what: Parameters<typeof posted>[3],
  ground: Ground,
  share = NO_PART.share,
): Posting[] {
  const place = ground.placeAt(at, entry);
  return place === undefined ? [] : [posted(place, category, { ...NO_PART, line, item, share }, what)];
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
