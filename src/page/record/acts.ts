/** What may happen at a channel as it is: pure, so that a verb that makes no sense is never offered. */

import type { ChannelTotals } from "../api/shapes.js";
import type { BareAct } from "./forms/flow.js";

/** The acts that make sense of a channel as it is, the likeliest first. */
export function actsOf({ connected, delivering, hold, flow, totals }: ChannelTotals): ChannelAct[] {
  if (!connected) return [];
  const counted: ChannelAct[] = totals.length > 0 ? ["reading", "therapy", "reset"] : [];
  const held = hold === "paused" || hold === "waiting";
  if (held) return ["resume", "rate", "bag", "bolus", ...counted, "start", "stop", "disconnect"];
  if (flow === null) return ["bag", "start", "secondary", "bolus", ...counted, "disconnect"];
  const ends: ChannelAct[] =
    delivering === "secondary" ? ["end-secondary"] : delivering === "bolus" ? ["stop-bolus"] : [];
  return ["rate", "pause", ...ends, "secondary", "bolus", "bag", ...counted, "stop", "disconnect"];
}

export type ChannelAct =
  | BareAct
  | "reading"
  | "rate"
  | "start"
  | "pause"
  | "bolus"
  | "secondary"
  | "bag"
  | "reset";
