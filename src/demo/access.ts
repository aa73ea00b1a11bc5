/**
 * What a nurse says of lines, channels and bags, as entries. A bag's key is its fluid's name and a
 * number (`saline-1`), so that the entries read aloud.
 */

import type { Bag } from "./fluids.js";
import { type Said, said } from "./story.js";

type Route = "intravenous" | "arterial" | "enteral";

export function line(key: string, label: string, route: Route = "intravenous"): Said {
  return said(`line-${key}`, "line-placed", { line: key, label, route });
}

export function lineOut(key: string): Said {
  return said(`line-out-${key}`, "line-removed", { line: key });
}

interface Connection {
  readonly totals?: "separate" | "combined";
  readonly device?: string;
}

/** A pump channel, settable in tenths of a millilitre per hour. */
export function pump(channel: string, on: string, { totals = "separate", device }: Connection = {}): Said {
  const fields = { channel, line: on, type: "pump", totals, rateStep: 0.1, maxRate: 999 };
  return said(`connect-${channel}`, "channel-connected", { ...fields, ...(device && { device }) });
}

export function syringe(channel: string, on: string): Said {
  const fields = { channel, line: on, type: "syringe", totals: "separate", rateStep: 0.1 };
  return said(`connect-${channel}`, "channel-connected", fields);
}

/** A set that runs by its own weight; drops per millilitre as its packet says. */
export function gravitySet(channel: string, on: string, dropFactor: number): Said {
  const fields = { channel, line: on, type: "gravity", totals: "none", dropFactor };
  return said(`connect-${channel}`, "channel-connected", fields);
}

/** A source that counts what it gives without a rate that anybody set, such as a patient-controlled pump. */
export function meteredSource(channel: string, on: string): Said {
  const fields = { channel, line: on, type: "metered", totals: "separate" };
  return said(`connect-${channel}`, "channel-connected", fields);
}

interface Hanging {
  /** What is left in a bag that was begun before. */
  readonly remaining?: number;
}

export function hang(channel: string, bag: string, contents: Bag, hanging: Hanging = {}): Said {
  return said(`hang-${bag}`, "bag-hung", { channel, role: "primary", bag, ...contents, ...hanging });
}

export function hangSecondary(channel: string, bag: string, contents: Bag): Said {
  return said(`hang-${bag}`, "bag-hung", { channel, role: "secondary", bag, ...contents });
}

type Method = "weighed" | "scale" | "estimate";

export function takeDown(bag: string, remaining: number, method: Method = "estimate"): Said {
  return said(`down-${bag}`, "bag-taken-down", { bag, remaining, method });
}

export function level(bag: string, remaining: number, method: Method = "scale"): Said {
  return said(`level-${bag}`, "bag-level-read", { bag, remaining, method });
}

/** What ran out of the bag to fill the tubing before it was connected: contents, not delivery. */
export function primed(bag: string, volume: number): Said {
  return said(`primed-${bag}`, "bag-adjusted", { bag, volume: -volume, reason: "primed" });
}
