/** What a reason proposes: entries that would settle it, and the reading itself charted otherwise. */

import { stepOf } from "../../conventions/settings.js";
import type { Entry, TotalRead } from "../../infusion/entry.js";
import { shownAs } from "../../infusion/quantity.js";
import type { Proposal } from "../finding.js";
import type { Disagreeing } from "./reason.js";

export function record(entry: Entry): Proposal {
  return { do: "record", entry };
}

export function amend(target: string, replacement: Entry, reason: string): Proposal {
  return { do: "amend", target, replacement, reason };
}

/**
 * The reading with its channel, total, number or place in time otherwise. It is judged anew, so nobody has confirmed
 * it or decided about it yet. A reading that is not recorded yet is proposed all the same, by its id.
 */
export function readingAs(
  { reading, entries }: Disagreeing,
  otherwise: Partial<Pick<TotalRead, "channel" | "total" | "volume" | "at" | "position">>,
  reason: string,
): Proposal {
  const { entry: target, at, channel, total, value } = reading;
  const recorded = entries.find(({ placed }) => placed.id === target)?.placed.entry;
  const volume = shownAs(value, stepOf(1));
  const charted: TotalRead =
    recorded?.kind === "total-read" ? recorded : { kind: "total-read", at, channel, total, volume };
  const { confirmed: _, settled: __, ...unjudged } = charted;
  return amend(target, { ...unjudged, ...otherwise }, reason);
}
