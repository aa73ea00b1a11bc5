/**
 * Emergency access: somebody at the bedside states a reason and reaches an encounter outside of their units
 * for a while. It is asked of nobody, since there is no time, and overlooked by nobody: it stands in the log
 * of the service, and beside everything that was done by it in the log of accesses.
 */

import { v7 as uuidv7 } from "uuid";
import type { Caller, Clock } from "../ledger/ledger.js";
import type { Emergency } from "../store/callers.js";
import { ask, type Store } from "../store/store.js";
import { HOUR, instant, later } from "../time/instant.js";

/** Long enough for what could not wait; who is still needed then says so again. */
const LASTS = 4 * HOUR;

export class Emergencies {
  constructor(
    private readonly store: Pick<Store, "transact" | "read">,
    private readonly clock: Clock,
  ) {}

  grant(caller: Caller, encounter: string, reason: string): Promise<Emergency> {
    const now = instant(this.clock());
    const emergency: Emergency = {
      id: uuidv7(),
      encounter,
      caller: caller.id,
      name: caller.name,
      role: caller.role,
      reason,
      grantedAt: now,
      endsAt: later(now, LASTS),
    };
    // biome-ignore lint/correctness/useYield: there is nothing to ask before this is written
    return this.store.transact(function* () {
      return { writes: [{ write: "emergency", emergency }], answer: emergency };
    });
  }

  /** The one that holds now; undefined where none does. */
  of(caller: Caller, encounter: string): Promise<Emergency | undefined> {
    const at = instant(this.clock());
    return this.store.read(() => ask({ ask: "emergency", encounter, caller: caller.id, at }));
  }
}
