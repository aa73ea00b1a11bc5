/**
 * How a caller comes to reach an encounter: the patient is in one of their units, or was until lately, or
 * they have stated an emergency. Whoever comes by none of these finds nothing there.
 */

import { mayFinish } from "../ledger/charting.js";
import type { Caller, Ledger } from "../ledger/ledger.js";
import type { Emergencies } from "./emergency.js";

export type Reach =
  | { readonly by: "unit" }
  /** The patient has left their units, which finish charting their own time. */
  | { readonly by: "having-been-there" }
  | { readonly by: "emergency"; readonly id: string }
  /** The encounter is there, and not theirs. */
  | { readonly by: "nothing" };

export class Reaching {
  constructor(
    private readonly ledger: Ledger,
    private readonly emergencies: Emergencies,
  ) {}

  /** Undefined where there is no such encounter. `writing` says that something is to be recorded. */
  async of(caller: Caller, encounter: string, writing: boolean): Promise<Reach | undefined> {
    const where = await this.ledger.unitOf(encounter);
    if (where === undefined) return undefined;
    const { units } = caller;
    if (units === null) return { by: "unit" };
    const theirs = units.includes(where);
    if (theirs && !writing) return { by: "unit" };
    // Also of one who is in the unit: what was before they came is charted elsewhere, emergencies apart.
    const emergency = await this.emergencies.of(caller, encounter);
    if (emergency !== undefined) return { by: "emergency", id: emergency.id };
    if (theirs) return { by: "unit" };
    const conventions = await this.ledger.stationsOf(encounter);
    const lately = conventions !== undefined && mayFinish(conventions, units, this.ledger.now());
    return lately ? { by: "having-been-there" } : { by: "nothing" };
  }
}
