/** What a nurse says of flows and of a channel's running totals, as entries. Volumes in mL, rates in mL/h. */

import { type Said, type StoryTime, said } from "./story.js";

interface Dose {
  readonly value: number;
  readonly unit: string;
}

interface Limits {
  readonly volumeToInfuse?: number | "none";
  readonly keepOpenRate?: number;
}

export function start(channel: string, rate: number | "unknown", limits: Limits = {}): Said {
  return said(`start-${channel}`, "flow-started", { channel, rate, ...limits });
}

/** A start by dose; the weight is the one programmed into the channel, where the dose needs one. */
export function startDose(channel: string, value: number, unit: string, kilograms?: number): Said {
  const weight = kilograms === undefined ? {} : { programmedWeight: { value: kilograms, unit: "kg" } };
  return said(`start-${channel}`, "flow-started", {
    channel,
    dose: { value, unit } satisfies Dose,
    ...weight,
  });
}

/** A gravity set opened and counted, in drops per minute. */
export function startDrops(channel: string, dripRate: number): Said {
  return said(`start-${channel}`, "flow-started", { channel, dripRate });
}

export function rate(channel: string, to: number): Said {
  return said(`rate-${channel}`, "rate-changed", { channel, role: "primary", rate: to });
}

export function dose(channel: string, value: number, unit: string): Said {
  return said(`dose-${channel}`, "rate-changed", {
    channel,
    role: "primary",
    dose: { value, unit } satisfies Dose,
  });
}

export function drops(channel: string, dripRate: number): Said {
  return said(`drops-${channel}`, "rate-changed", { channel, role: "primary", dripRate });
}

export function pause(channel: string, note: string): Said {
  return said(`pause-${channel}`, "flow-paused", { channel, reason: "by-clinician", note });
}

export function resume(channel: string): Said {
  return said(`resume-${channel}`, "flow-resumed", { channel });
}

export function stop(channel: string): Said {
  return said(`stop-${channel}`, "flow-stopped", { channel, reason: "by-clinician" });
}

type AfterSecondary = "resume-primary" | "wait";

/** A secondary over its whole bag, or over `volumeToInfuse` of it. */
export function secondary(
  channel: string,
  rate: number,
  whenDone: AfterSecondary = "resume-primary",
  volumeToInfuse?: number,
): Said {
  const limited = volumeToInfuse === undefined ? {} : { volumeToInfuse };
  return said(`secondary-${channel}`, "secondary-started", { channel, rate, whenDone, ...limited });
}

export function secondaryEnded(channel: string): Said {
  return said(`secondary-end-${channel}`, "secondary-ended", { channel });
}

/** A bolus from the bag; `over` is an ISO 8601 duration such as `PT15M`. */
export function bolus(channel: string, volume: number, over: string): Said {
  return said(`bolus-${channel}`, "bolus-started", { channel, volume, over });
}

export function bolusDose(channel: string, value: number, unit: string, over: string): Said {
  return said(`bolus-${channel}`, "bolus-started", { channel, dose: { value, unit } satisfies Dose, over });
}

type Total = "primary" | "secondary" | "combined";

/** A running total as the channel shows it. */
export function shows(channel: string, volume: number, total: Total = "primary"): Said {
  return said(`read-${channel}-${total}`, "total-read", { channel, total, volume });
}

/** A reading that the ledger asked about, and that was looked at once more on the device. */
export function showsIndeed(channel: string, volume: number, total: Total = "primary"): Said {
  return said(`read-${channel}-${total}`, "total-read", { channel, total, volume, confirmed: true });
}

/** A new therapy programmed into the channel. `lost` says why its totals were not written down first. */
export function therapy(channel: string, lost?: "already-cleared"): Said {
  const uncaptured = lost === undefined ? {} : { leaveUncaptured: { reason: lost } };
  return said(`therapy-${channel}`, "therapy-changed", { channel, ...uncaptured });
}

/** Totals that a device reports as cleared. */
export function cleared(channel: string, totals: readonly Total[]): Said {
  return said(`reset-${channel}`, "totals-reset", { channel, totals });
}

/** Totals found cleared, at some time between two, with nobody having written them down. */
export function foundCleared(
  channel: string,
  totals: readonly Total[],
  from: StoryTime,
  to: StoryTime,
): Said {
  return said(`reset-${channel}`, "totals-reset", (clock) => ({
    channel,
    totals,
    between: [clock(from), clock(to)],
    leaveUncaptured: { reason: "already-cleared" },
  }));
}
