/** What counts of what was told at the bedside, for tests of the balance that need no ledger: in mL and clock times. */

import { type Counted, counted } from "../../src/balance/counted.js";
import { type Irrigation, irrigationOver } from "../../src/balance/irrigation.js";
import type { Output } from "../../src/balance/true-output.js";
import { defaultSettings } from "../../src/conventions/settings.js";
import { apportioned } from "../../src/infusion/apportion.js";
import { collector } from "../../src/infusion/collected.js";
import { comeUpTo, follow } from "../../src/infusion/course.js";
import type { DeliveryLost, Placed } from "../../src/infusion/entry.js";
import { inOrder } from "../../src/infusion/order.js";
import { NOTHING_KNOWN } from "../../src/infusion/state.js";
import type { Instant } from "../../src/time/instant.js";
import { at, inMl, placed, type Told } from "../infusion/bedside.js";

const settingsAt = () => ({ ...defaultSettings, household: { cup: 240_000 } });

/** What entries, in any order of recording, come to by an instant. */
export function countedOf(told: readonly Placed[], until: Instant): Counted {
  const { sink, ...collected } = collector();
  const entries = inOrder(told).filter(({ entry }) => entry.at <= until);
  let state = NOTHING_KNOWN;
  for (const one of entries) state = follow(state, one, settingsAt, sink);
  comeUpTo(state, until, sink);
  const lost = entries.filter((one): one is Placed<DeliveryLost> => one.entry.kind === "delivery-lost");
  const given = apportioned(collected);
  return counted({ ...given, entries, lost, came: collected.outputs, settingsAt });
}

export const outputs = (told: readonly Told[], until = "23:00"): readonly Output[] =>
  countedOf(placed(told), at(until)).irrigated.outputs;

/** What counts and when: "15:00 675". */
export const outputsTold = (told: readonly Told[], until = "23:00"): string[] =>
  outputs(told, until).map(({ at: then, volume, leftOut }) => {
    const clock = new Date(then).toISOString().slice(11, 16);
    return `${clock} ${inMl(volume)}${leftOut > 0 ? ` and ${leftOut} unmeasured` : ""}`;
  });

/** The irrigation of the sites over a period, amounts at its end included. */
export function irrigation(told: readonly Told[], from: string, to: string): Irrigation[] {
  const { irrigated } = countedOf(placed(told), at(to));
  return irrigationOver(irrigated, { start: at(from), end: at(to) }, (one, by) => one <= by);
}
