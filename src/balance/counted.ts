/**
 * What counts of all that was given, charted and came out: intake less what was lost, and true output. It is
 * one working-out, since what irrigates is no intake and comes off the output.
 */

import type { Settings } from "../conventions/settings.js";
import type { Apportioned } from "../infusion/apportion.js";
import { finestRows } from "../infusion/cumulative.js";
import type { DeliveryLost, Placed } from "../infusion/entry.js";
import type { CameOut } from "../infusion/evidence.js";
import type { Instant } from "../time/instant.js";
import { chartedIntake } from "./charted.js";
import { type Given, Inflow } from "./inflow.js";
import type { TakenIn } from "./intake.js";
import type { Irrigated } from "./irrigation.js";
import { type Losses, lossesOf } from "./lost.js";
import { sitesOf } from "./sites.js";
import { trueOutputs } from "./true-output.js";

export interface Everything extends Pick<Apportioned, "deliveries" | "unattributed" | "unknown"> {
  /** All that was charted since the stay began, in order; losses also of what is charted later. */
  readonly entries: readonly Placed[];
  readonly lost: readonly Placed<DeliveryLost>[];
  readonly came: readonly CameOut[];
  readonly settingsAt: (at: Instant) => Settings;
}

export interface Counted {
  readonly taken: TakenIn;
  readonly losses: Losses["told"];
  readonly irrigated: Irrigated;
}

export function counted({ entries, lost, came, settingsAt, ...given }: Everything): Counted {
  const sites = sitesOf(entries);
  const { instilled, ...charted } = chartedIntake(entries, sites, settingsAt);
  const rows = finestRows(given.deliveries);
  const losses = lossesOf(lost, rows, given.unattributed);
  const inflow = new Inflow({ ...given, rows }, losses, sites);
  const isIntake = (one: { readonly line: string | null }) => sites.irrigatedBy(one.line) === null;
  const intake: Given = {
    rows: rows.filter((row) => isIntake(row[0]!)),
    unattributed: given.unattributed.filter(isIntake),
    unknown: given.unknown.filter(isIntake),
  };
  const outputs = trueOutputs(entries, came, { sites, inflow, instilled });
  return {
    taken: { ...intake, ...charted, losses },
    losses: losses.told,
    irrigated: {
      outputs: outputs.outputs,
      instilled: outputs.instilled,
      emptied: outputs.emptied,
      unnamed: outputs.unnamed,
      inflow,
    },
  };
}
