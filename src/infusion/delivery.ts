/**
 * Deliveries: flows as the figures take them, with what was read allowed for. A delivery that a reading
 * scales follows one whole-tick curve over the reading's span, so that its parts always add up to it.
 */

import type { Instant } from "../time/instant.js";
import type { Contents } from "./contents.js";
import type { Fluid, TotalName } from "./entry.js";
import { type Flow, ranBy } from "./flow.js";
import { minus, NOTHING, plus, type Volume } from "./quantity.js";

/** What a figure rests on, from the strongest to the weakest. */
export const BASES = ["measured", "apportioned", "computed", "disputed", "unknown"] as const;
export type Basis = (typeof BASES)[number];

/**
 * A share of a span's computed volume: what was computed of the span before this delivery, and the
 * ratio (`delivered` to `computed`) by which the curve of the whole span is scaled.
 */
export interface Scale {
  readonly before: Volume;
  readonly delivered: Volume;
  readonly computed: Volume;
}

export interface Delivery extends Flow {
  /** Rate × time, whatever was read: nothing where nobody knew the rate. */
  readonly computed: Volume;
  /** What its curve is measured by: rate × time, by an even rate where nobody knew it. */
  readonly ran: Volume;
  readonly scale: Scale | null;
  readonly basis: Basis;
  /** The reading that says how much it was; null where nothing was read. */
  readonly anchor: string | null;
}

/** An amount above nothing that a reading adds and no flow can be scaled to hold. */
export interface Unattributed {
  readonly channel: string;
  readonly line: string | null;
  /** Where only one can have given it. */
  readonly bag: string | null;
  readonly fluid: Fluid | null;
  /** What drugs were in the bags that can have given it, the last one's last. */
  readonly contents: readonly Contents[];
  readonly total: TotalName | null;
  /** The reading it stands at, and the span it may have been delivered in. */
  readonly entry: string;
  readonly from: Instant;
  readonly at: Instant;
  readonly volume: Volume;
  readonly basis: Basis;
}

/** What a delivery had given by an instant: its cumulative curve, which never falls. */
export function givenBy(delivery: Delivery, at: Instant): Volume {
  const { scale } = delivery;
  const { start, end, rate, volume, ran } = delivery;
  if (scale === null) return ranBy(start, end, rate, volume, at);
  if (at <= start) return NOTHING;
  if (at >= end) return volume;
  const into = ranBy(start, end, rate, ran, at);
  return minus(scaled(scale, into), scaled(scale, NOTHING));
}

/** What rate × time alone comes to by an instant. */
export function computedOf({ start, end, rate, computed }: Delivery, at: Instant): Volume {
  return ranBy(start, end, rate, computed, at);
}

/** The scaled curve of the span at `computed` ticks into a delivery, in whole ticks. */
function scaled({ before, delivered, computed }: Scale, into: Volume): Volume {
  return ((plus(before, into) * delivered) / computed) as Volume;
}

/** The delivery of a flow by a scale. */
export function scaledBy(flow: Flow, scale: Scale, basis: Basis, anchor: string): Delivery {
  const volume = minus(scaled(scale, flow.volume), scaled(scale, NOTHING));
  return deliveryOf(flow, { volume, computed: flow.volume, scale, basis, anchor });
}

/** The same of what flowed at a rate nobody knew: its even rate computes nothing. */
export function spreadBy(flow: Flow, scale: Scale, basis: Basis, anchor: string): Delivery {
  return { ...scaledBy(flow, scale, basis, anchor), computed: NOTHING };
}

/** Whether it is spread evenly over its time, since nobody knew at what rate it ran. */
export function isSpread({ programme, anchor }: Delivery): boolean {
  return programme === anchor;
}

export function asComputed(flow: Flow, basis: Basis = "computed", anchor: string | null = null): Delivery {
  const { volume } = flow;
  return deliveryOf(flow, { volume, computed: volume, scale: null, basis, anchor });
}

/** What ran as computed until so much was given, and then no more. */
export function cappedAt(flow: Flow, volume: Volume, basis: Basis, anchor: string): Delivery {
  return deliveryOf(flow, { volume, computed: flow.volume, scale: null, basis, anchor });
}

/** Written out: there is one for every piece of a flow, and spreading costs more. */
function deliveryOf(
  flow: Flow,
  { volume, computed, scale, basis, anchor }: Omit<Delivery, keyof Flow | "ran"> & { volume: Volume },
): Delivery {
  return {
    channel: flow.channel,
    line: flow.line,
    bag: flow.bag,
    fluid: flow.fluid,
    contents: flow.contents,
    role: flow.role,
    total: flow.total,
    programme: flow.programme,
    start: flow.start,
    end: flow.end,
    rate: flow.rate,
    volume,
    computed,
    ran: flow.volume,
    scale,
    basis,
    anchor,
  };
}
