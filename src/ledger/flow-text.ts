/** Flows and unknown spans as JSON. Volumes are exact to the microlitre here; figures are rounded elsewhere. */

import { stepOf } from "../conventions/settings.js";
import type { Apportioned } from "../infusion/apportion.js";
import { BASES, type Delivery, isSpread, type Unattributed } from "../infusion/delivery.js";
import type { Flow, UnknownSpan } from "../infusion/flow.js";
import { NOTHING, plus, shownAs, type Volume } from "../infusion/quantity.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";

const MICROLITRE = stepOf(1);

/** A volume in mL to the microlitre. */
export function volumeText(volume: Volume): number {
  return millilitres(shownAs(volume, MICROLITRE));
}

/**
 * The flows of a window as they ran, each with what the readings say it delivered, and after them what
 * flowed at a rate nobody knew and was read.
 */
export function flowsText(flows: readonly Flow[], { deliveries }: Apportioned, zone: string) {
  const spread = deliveries.filter(isSpread);
  return [
    ...flows.map((flow) => flowText(flow, piecesOf(flow, deliveries), zone)),
    ...spread.map((delivery) => ({ ...flowText(delivery, [delivery], zone), rate: null })),
  ];
}

function piecesOf(flow: Flow, deliveries: readonly Delivery[]): Delivery[] {
  return deliveries.filter(
    (one) => one.channel === flow.channel && !isSpread(one) && flow.start <= one.start && one.end <= flow.end,
  );
}

function flowText(flow: Flow, pieces: readonly Delivery[], zone: string) {
  const bases = pieces.map(({ basis }) => basis);
  return {
    channel: flow.channel,
    line: flow.line,
    bag: flow.bag,
    fluid: flow.fluid === null ? null : { name: flow.fluid.name, category: flow.fluid.category },
    role: flow.role,
    start: formatInstant(flow.start, zone),
    end: formatInstant(flow.end, zone),
    rate: millilitres(flow.rate),
    volume: volumeText(flow.volume),
    delivered: volumeText(pieces.reduce((sum, { volume }) => plus(sum, volume), NOTHING)),
    basis: BASES.findLast((basis) => bases.includes(basis)) ?? "computed",
  };
}

export function unattributedText(amount: Unattributed, zone: string) {
  return {
    channel: amount.channel,
    line: amount.line,
    bag: amount.bag,
    total: amount.total,
    reading: amount.entry,
    start: formatInstant(amount.from, zone),
    at: formatInstant(amount.at, zone),
    volume: volumeText(amount.volume),
    basis: amount.basis,
  };
}

export function unknownText(span: UnknownSpan, zone: string) {
  return {
    channel: span.channel,
    line: span.line,
    bag: span.bag,
    role: span.role,
    start: formatInstant(span.start, zone),
    end: formatInstant(span.end, zone),
    reason: span.reason,
  };
}
