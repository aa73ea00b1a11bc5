/**
 * From what an identity provider says of somebody to what they are here: which of the provider's words is
 * which role, and which unit. What it does not say, nobody is.
 */

import type { Caller } from "../ledger/ledger.js";
import { Key, text } from "../wire/text.js";
import type { Role } from "./roles.js";

export interface ClaimRules {
  /** Where the claim stands: a name, or names with dots between them, the outer first. */
  readonly roleClaim: string;
  /** The provider's words and the role each stands for; of several the first in this order counts. */
  readonly roles: readonly (readonly [said: string, role: Role])[];
  readonly unitsClaim: string;
  /** The provider's words and the unit each stands for, `*` for every unit; null where they are units' ids. */
  readonly units: readonly (readonly [said: string, unit: string])[] | null;
}

export type Claims = Readonly<Record<string, unknown>>;

/** What every unit is called in rules. */
const EVERY = "*";

/** A subject as RFC 7519 and OpenID Connect Core, section 2, have it: at most 255 ASCII characters. */
const SUBJECT = /^[\x21-\x7e]{1,255}$/;

const Name = text(200, "The name of a caller.");

/** The caller that claims are of; undefined where they give nobody, or no role that is known here. */
export function callerOfClaims(claims: Claims, rules: ClaimRules): Caller | undefined {
  const { sub } = claims;
  const role = roleIn(claims, rules);
  if (typeof sub !== "string" || !SUBJECT.test(sub) || role === undefined) return undefined;
  const said = [claims.name, claims.preferred_username].find((one) => Name.safeParse(one).success);
  return {
    // Apart from the ids of accounts and tokens, which are the ledger's own.
    id: `oidc:${sub}`,
    name: typeof said === "string" ? said : sub.slice(0, 200),
    role,
    units: unitsIn(claims, rules),
    source: role === "device" ? "device" : "person",
  };
}

function roleIn(claims: Claims, { roleClaim, roles }: ClaimRules): Role | undefined {
  const said = wordsAt(claims, roleClaim);
  return roles.find(([word]) => said.includes(word))?.[1];
}

function unitsIn(claims: Claims, { unitsClaim, units }: ClaimRules): readonly string[] | null {
  const said = wordsAt(claims, unitsClaim);
  if (units === null) return said.filter((word) => Key.safeParse(word).success);
  const meant = units.filter(([word]) => said.includes(word)).map(([, unit]) => unit);
  return meant.includes(EVERY) ? null : [...new Set(meant)];
}

/** The words of a claim: a text of its own, texts in a list, or words with spaces between them. */
function wordsAt(claims: Claims, path: string): readonly string[] {
  const value = Object.hasOwn(claims, path)
    ? claims[path]
    : path.split(".").reduce(inside, claims as unknown);
  if (typeof value === "string") return value.split(" ").filter((word) => word !== "");
  return Array.isArray(value) ? value.filter((word): word is string => typeof word === "string") : [];
}

function inside(outer: unknown, name: string): unknown {
  if (typeof outer !== "object" || outer === null || !Object.hasOwn(outer, name)) return undefined;
  return (outer as Claims)[name];
}
