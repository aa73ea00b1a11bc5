/** What was irrigated over the evidence, and the output that counts by it: as the balance has it. */

import { type Counted, counted } from "../balance/counted.js";
import { apportioned } from "../infusion/apportion.js";
import type { DeliveryLost, Placed } from "../infusion/entry.js";
import type { Evidence } from "./finding.js";

/** Null where nothing was irrigated, which is told without working anything out. */
export function irrigatedIn(evidence: Evidence): Counted["irrigated"] | null {
  const entries = evidence.entries.map(({ placed }) => placed);
  if (!entries.some(irrigates)) return null;
  const lost = entries.filter((one): one is Placed<DeliveryLost> => one.entry.kind === "delivery-lost");
  const { collected, settingsAt } = evidence;
  const given = apportioned(collected);
  return counted({ ...given, entries, lost, came: collected.outputs, settingsAt }).irrigated;
}

function irrigates({ entry }: Placed): boolean {
  return (
    entry.kind === "irrigant-instilled" || (entry.kind === "line-placed" && entry.route === "irrigation")
  );
}
