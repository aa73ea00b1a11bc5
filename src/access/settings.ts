/** What whoever runs the service decides about access, and what holds where they have decided nothing. */

import { HOUR, MINUTE } from "../time/instant.js";
import type { ClaimRules } from "./claims.js";
import type { ClientSettings } from "./code-flow.js";
import { COST, type Cost } from "./password.js";
import type { ProviderSettings } from "./provider.js";
import { ROLES, type Role } from "./roles.js";
import type { Lasting } from "./sessions.js";

export interface AccessSettings {
  readonly sessions: Lasting;
  /** How slow each guess of a password is. */
  readonly passwordCost: Cost;
  /** Where browsers find the service, such as `https://ledger.example.org`; null where they find it as it is asked. */
  readonly publicOrigin: string | null;
  /** The addresses of proxies in front of the service, which are believed where a request comes from. */
  readonly proxies: readonly string[];
  /** An OpenID Connect provider whose access tokens are let in, and where people sign in if it has a client; null for none. */
  readonly provider: (ProviderSettings & ClaimRules & { readonly client?: ClientSettings | null }) | null;
}

export const DEFAULT_ACCESS: AccessSettings = {
  // A shared workstation is left open for minutes, a shift lasts twelve hours.
  sessions: { idle: 10 * MINUTE, whole: 12 * HOUR },
  passwordCost: COST,
  publicOrigin: null,
  proxies: [],
  provider: null,
};

/** Words and what each stands for, as in `ward-nurse=nurse,ward-lead=charge-nurse`; undefined for another form. */
export function pairsIn(text: string): [string, string][] | undefined {
  const pairs = text.split(",").map((pair) => /^\s*([^=\s]+)=([^=\s]+)\s*$/.exec(pair));
  return pairs.every((pair) => pair !== null) ? pairs.map(([, said, meant]) => [said!, meant!]) : undefined;
}

/** The same, where each stands for a role. */
export function rolesIn(text: string): [string, Role][] | undefined {
  const pairs = pairsIn(text);
  const roles = pairs?.flatMap(([said, meant]): [string, Role][] => {
    const role = ROLES.find((one) => one === meant);
    return role === undefined ? [] : [[said, role]];
  });
  return roles?.length === pairs?.length ? roles : undefined;
}
