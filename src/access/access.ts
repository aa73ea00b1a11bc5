/** Everything that says who is let in, what they reach, and what is kept of it: made once, for the whole service. */

import type { Clock, Ledger } from "../ledger/ledger.js";
import type { Store } from "../store/store.js";
import { AccessLog } from "./access-log.js";
import { Accounts } from "./accounts.js";
import { Callers } from "./callers.js";
import type { ClaimRules } from "./claims.js";
import { CodeFlow } from "./code-flow.js";
import { Emergencies } from "./emergency.js";
import { Provider } from "./provider.js";
import { Reaching } from "./reach.js";
import { Sessions } from "./sessions.js";
import type { AccessSettings } from "./settings.js";

export interface Access {
  readonly callers: Callers;
  readonly accounts: Accounts;
  readonly sessions: Sessions;
  readonly reaching: Reaching;
  readonly emergencies: Emergencies;
  /** Signing in at the identity provider; null where that is not to be had. */
  readonly atProvider: { readonly flow: CodeFlow; readonly rules: ClaimRules } | null;
  readonly log: AccessLog;
  readonly settings: AccessSettings;
}

export interface AccessParts {
  readonly ledger: Ledger;
  readonly store: Store;
  readonly clock: Clock;
  readonly settings: AccessSettings;
  /** Told why accesses could not be written down yet. */
  readonly complain?: (error: unknown) => void;
}

export function accessTo({ ledger, store, clock, settings, complain }: AccessParts): Access {
  const sessions = new Sessions(store, clock, settings.sessions, settings.passwordCost);
  const emergencies = new Emergencies(store, clock);
  const { provider } = settings;
  const known = provider === null ? undefined : { tokens: new Provider(provider, clock), rules: provider };
  const client = provider?.client ?? null;
  const atProvider =
    known === undefined || client === null
      ? null
      : { flow: new CodeFlow(known.tokens, known.rules.issuer, client), rules: known.rules };
  return {
    callers: new Callers({ store, sessions, provider: known }, clock),
    accounts: new Accounts(store, clock, settings.passwordCost),
    sessions,
    reaching: new Reaching(ledger, emergencies),
    emergencies,
    atProvider,
    log: new AccessLog(store, clock, complain),
    settings,
  };
}
