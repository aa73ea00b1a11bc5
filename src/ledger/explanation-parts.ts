/**
 * What a figure consists of: the deliveries, amounts and readings charted under one row in one period, and
 * where it had nothing, what its channels gave instead.
 *
 * Invariant: the parts add up to the figure, since they are chosen by the cells that figures are charted in.
 */

import type { Anchor } from "../infusion/anchor.js";
import { cellOf, cellsOf, type Dividing } from "../infusion/cells.js";
import type { Delivery, Unattributed } from "../infusion/delivery.js";
import {
  amountHeading,
  type Grouping,
  headingOf,
  type Origin,
  unattributedHeading,
} from "../infusion/headings.js";
import { NOTHING } from "../infusion/quantity.js";
import type { State } from "../infusion/state.js";
import { type Amount, countedElsewhere } from "../infusion/volumes.js";
import type { Period } from "../time/instant.js";
import type { Window } from "./window.js";

/** A row of the volumes: of what kind, and its key (null for what has none). */
export interface RowAsked {
  readonly per: Grouping;
  readonly row: string | null;
}

export interface Parts {
  readonly deliveries: readonly Delivery[];
  readonly unattributed: readonly Unattributed[];
  readonly amounts: readonly Amount[];
  /** What a metered channel counted meanwhile, which stands at a later reading. */
  readonly countedLater: readonly Unattributed[];
  /** Where the row itself had nothing: what else its channels gave meanwhile. */
  readonly meanwhile: readonly Meanwhile[];
  /** The readings, levels and segments that say something about these. */
  readonly anchors: readonly Anchor[];
  /** The channels that the row is, or was, fed by: of what ran, or else of what might have. */
  readonly channels: ReadonlySet<string>;
}

/** Something else that a channel of the row gave. */
export interface Meanwhile {
  readonly delivery: Delivery;
  /** Whether what the row is about waited for it, being the primary's. */
  readonly waited: boolean;
}

/** What is charted under a row in a period, as far as that has come. */
export function partsOf(
  window: Window & { readonly amounts: readonly Amount[] },
  { start, end }: Period,
  { per, row }: RowAsked,
  dividing: Dividing,
): Parts {
  const cells = cellsOf(dividing);
  const charted = (one: Pick<Amount, "at" | "boundary">) => cellOf(one, cells, dividing)?.interval === 0;
  const ofRow = (origin: Origin) => headingOf(origin, per).key === row;
  const overlaps = (one: Period) => one.start < end && one.end > start;
  const deliveries = window.deliveries.filter((one) => overlaps(one) && ofRow(one));
  const unattributed = window.unattributed.filter(
    (one) => charted({ at: one.at, boundary: "ends" }) && unattributedHeading(one, per).key === row,
  );
  const amounts = window.amounts.filter((one) => charted(one) && amountHeading(one, per).key === row);
  const countedLater = countedElsewhere(window).filter(
    (one) => one.from < end && one.at > end && unattributedHeading(one, per).key === row,
  );
  const read = new Set([
    ...deliveries.map((one) => one.anchor),
    ...[...unattributed, ...countedLater].map((one) => one.entry),
  ]);
  const untold = window.unknown.filter((one) => overlaps(one) && ofRow(one));
  const leftUntold = ({ delivered, channel, from, to }: Anchor) =>
    delivered === null && untold.some((one) => one.channel === channel && one.start < to && one.end > from);
  const channels = new Set(
    (deliveries.length > 0 ? deliveries : originsOf(window, row).filter(ofRow)).map(channelOf),
  );
  const countedNothing = ({ metered, delivered, channel, from, to }: Anchor) =>
    metered && delivered === NOTHING && channels.has(channel) && from < end && to > start;
  const others = deliveries.length > 0 ? [] : window.deliveries.filter(overlaps);
  return {
    deliveries,
    unattributed,
    amounts,
    countedLater,
    meanwhile: others
      .filter(({ channel }) => channels.has(channel))
      .map((delivery) => ({ delivery, waited: waitsFor(delivery, window.state, ofRow) })),
    anchors: window.anchors.filter(
      (anchor) => read.has(anchor.entry) || leftUntold(anchor) || countedNothing(anchor),
    ),
    channels,
  };
}

/** Whether the primary of a channel is the row's, so that it waits while something else is given. */
function waitsFor({ channel, role }: Delivery, state: State, ofRow: (origin: Origin) => boolean): boolean {
  if (role !== "secondary" && role !== "bolus") return false;
  const { primary = null, primaryBag = null, line = null } = state.channels.get(channel) ?? {};
  const bag = primaryBag === null ? undefined : state.bags.get(primaryBag);
  return primary !== null && ofRow({ channel, line, bag: primaryBag, fluid: bag?.fluid ?? null });
}

function channelOf({ channel }: Origin): string {
  return channel;
}

/** What flowed since the shift began, and what might flow now; what has no key is told only by what flowed. */
function originsOf({ deliveries, unknown, state }: Window, row: string | null): Origin[] {
  return [...deliveries, ...unknown, ...(row === null ? [] : standingIn(state))];
}

/** Where something would be delivered if it flowed: by every channel, and out of every bag that hangs. */
function standingIn({ channels, bags }: State): Origin[] {
  const empty = { bag: null, fluid: null };
  const lineOf = (channel: string) => channels.get(channel)?.line ?? null;
  return [
    ...[...channels.values()].map(({ channel, line }) => ({ channel, line, ...empty })),
    ...[...bags.values()].map(({ channel, bag, fluid }) => ({ channel, line: lineOf(channel), bag, fluid })),
  ];
}
