/** Flows and unknown spans as JSON. Volumes are exact to the microlitre here; figures are rounded elsewhere. */

import { stepOf } from "../conventions/settings.js";
import type { Flow, UnknownSpan } from "../infusion/flow.js";
import { shownAs, type Volume } from "../infusion/quantity.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";

const MICROLITRE = stepOf(1);

/** A volume in mL to the microlitre. */
export function volumeText(volume: Volume): number {
  return millilitres(shownAs(volume, MICROLITRE));
}

export function flowText(flow: Flow, zone: string) {
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
