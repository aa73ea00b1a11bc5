/**
 * Deliveries: flows as the figures take them, with what was read allowed for. A delivery that a reading
 * scales follows one whole-tick curve over the reading's span, so that its parts always add up to it.
 */

import type { Instant } from "../time/instant.js";
import type { Fluid, TotalName } from "./entry.js";
import { deliveredBy as computedBy, type Flow } from "./flow.js";
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

/** An amount that a reading adds (or, negative, takes off) and no flow can be scaled to hold. */
export interface Unattributed {
  readonly channel: string;
  readonly line: string | null;
  /** Where only one can have given it. */
  readonly bag: string | null;
  readonly fluid: Fluid | null;
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
  if (scale === null) return computedBy(delivery, at);
  if (at <= delivery.start) return NOTHING;
  if (at >= delivery.end) return delivery.volume;
  const into = computedBy({ ...delivery, volume: delivery.ran }, at);
  return minus(scaled(scale, into), scaled(scale, NOTHING));
}

/** What rate × time alone comes to by an instant. */
export function computedOf(delivery: Delivery, at: Instant): Volume {
  return computedBy({ ...delivery, volume: delivery.computed }, at);
}

/** The scaled curve of the span at `computed` ticks into a delivery, in whole ticks. */
function scaled({ before, delivered, computed }: Scale, into: Volume): Volume {
  return ((plus(before, into) * delivered) / computed) as Volume;
}

/** The delivery of a flow by a scale. */
export function scaledBy(flow: Flow, scale: Scale, basis: Basis, anchor: string): Delivery {
  const volume = minus(scaled(scale, flow.volume), scaled(scale, NOTHING));
  return { ...flow, computed: flow.volume, ran: flow.volume, volume, scale, basis, anchor };
}

/** The same of what flowed at a rate nobody knew: its even rate computes nothing. */
export function spreadBy(flow: Flow, scale: Scale, basis: Basis, anchor: string): Delivery {
  return { ...scaledBy(flow, scale, basis, anchor), computed: NOTHING };
}

export function asComputed(flow: Flow, basis: Basis = "computed", anchor: string | null = null): Delivery {
  return { ...flow, computed: flow.volume, ran: flow.volume, scale: null, basis, anchor };
}
