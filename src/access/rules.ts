/**
 * Who may do what: one table of every guarded route and the roles that may use it. What is not in the
 * table nobody may do, and a role that is not named in a row may not do what the row says.
 *
 * Administration sees no clinical facts; an integration reads, and keeps what the system it
 * serves has charted; a device tells what it did and reads nothing.
 */

import { ROLES, type Role } from "./roles.js";

const BEDSIDE: readonly Role[] = ["nurse", "charge-nurse"];
const CLINICAL_READERS: readonly Role[] = [...BEDSIDE, "integration"];
const DIRECTORY_READERS: readonly Role[] = [...CLINICAL_READERS, "administrator"];
const ADMITTING: readonly Role[] = [...BEDSIDE, "administrator"];

const RULES: Readonly<Record<string, readonly Role[]>> = {
  "GET /v1/me": ROLES,
  "DELETE /v1/session": ROLES,
  "GET /v1/units": DIRECTORY_READERS,
  "POST /v1/units": ["administrator"],
  "GET /v1/units/{unit}": DIRECTORY_READERS,
  "PATCH /v1/units/{unit}": ["administrator"],
  "GET /v1/units/{unit}/stream": CLINICAL_READERS,
  "GET /v1/units/{unit}/audit": ["charge-nurse"],
  "GET /v1/units/{unit}/accesses": ["charge-nurse", "administrator"],
  "GET /v1/encounters": DIRECTORY_READERS,
  "POST /v1/encounters": ADMITTING,
  "GET /v1/encounters/{encounter}": DIRECTORY_READERS,
  "PATCH /v1/encounters/{encounter}": ADMITTING,
  "GET /v1/encounters/{encounter}/entries": CLINICAL_READERS,
  "POST /v1/encounters/{encounter}/entries": [...BEDSIDE, "device"],
  "GET /v1/encounters/{encounter}/entries/{entry}": CLINICAL_READERS,
  "GET /v1/encounters/{encounter}/volumes": CLINICAL_READERS,
  "GET /v1/encounters/{encounter}/balance": CLINICAL_READERS,
  "GET /v1/encounters/{encounter}/drug-amounts": CLINICAL_READERS,
  "GET /v1/encounters/{encounter}/flows": CLINICAL_READERS,
  "GET /v1/encounters/{encounter}/totals": CLINICAL_READERS,
  "GET /v1/encounters/{encounter}/volumes/explanation": CLINICAL_READERS,
  "GET /v1/encounters/{encounter}/reconciliation": CLINICAL_READERS,
  "POST /v1/encounters/{encounter}/reconciliation": CLINICAL_READERS,
  "GET /v1/encounters/{encounter}/charts": CLINICAL_READERS,
  "POST /v1/encounters/{encounter}/charts": ["charge-nurse", "integration"],
  "GET /v1/encounters/{encounter}/charts/{chart}": CLINICAL_READERS,
  "GET /v1/encounters/{encounter}/findings": CLINICAL_READERS,
  "GET /v1/encounters/{encounter}/shifts/{date}/{shift}": CLINICAL_READERS,
  "POST /v1/encounters/{encounter}/shifts/{date}/{shift}/signature": BEDSIDE,
  "GET /v1/encounters/{encounter}/changes": CLINICAL_READERS,
  "GET /v1/encounters/{encounter}/export": ["charge-nurse", "integration"],
  "POST /v1/encounters/{encounter}/findings/{finding}/acknowledgement": BEDSIDE,
  "GET /v1/encounters/{encounter}/accesses": ["charge-nurse", "administrator"],
  "POST /v1/encounters/{encounter}/emergency-access": BEDSIDE,
  "GET /v1/accounts": ["administrator"],
  "POST /v1/accounts": ["administrator"],
  "PATCH /v1/accounts/{account}": ["administrator"],
  "GET /v1/account-accesses": ["administrator"],
};

/** What is for an encounter that is out of reach: how to reach it. */
const OUT_OF_REACH: ReadonlySet<string> = new Set(["POST /v1/encounters/{encounter}/emergency-access"]);

/** What staff of a unit that the patient has left may do for their own time, beside reading; a comparison reads. */
const FINISHING: ReadonlySet<string> = new Set([
  "POST /v1/encounters/{encounter}/entries",
  "POST /v1/encounters/{encounter}/reconciliation",
  "POST /v1/encounters/{encounter}/shifts/{date}/{shift}/signature",
]);

/** What is for callers of every unit alone: who decides on some units could give themselves the others. */
const FOR_EVERY_UNIT: ReadonlySet<string> = new Set([
  "POST /v1/units",
  "GET /v1/accounts",
  "POST /v1/accounts",
  "PATCH /v1/accounts/{account}",
  "GET /v1/account-accesses",
]);

export function isForEveryUnit(route: string): boolean {
  return FOR_EVERY_UNIT.has(route);
}

/** Whether a route is also for encounters outside of the caller's units. */
export function isOutOfReach(route: string): boolean {
  return OUT_OF_REACH.has(route);
}

/** Whether a route is also for staff of a unit that the patient has left lately. */
export function isFinishing(route: string): boolean {
  return route.startsWith("GET ") || FINISHING.has(route);
}

/** The roles of a route, such as `GET /v1/units/{unit}`; none for a route without a rule. */
export function rolesFor(route: string): readonly Role[] {
  return Object.hasOwn(RULES, route) ? RULES[route]! : [];
}

export function mayUse(role: string, route: string): boolean {
  return rolesFor(route).some((one) => one === role);
}

/**
 * What a device can know of itself: its connection, what it holds, how it runs and what it counted. Where
 * the patient is, what went in by mouth or came out, and what was wrong with an entry, people say.
 */
export const DEVICE_KINDS: ReadonlySet<string> = new Set([
  "channel-connected",
  "channel-disconnected",
  "bag-hung",
  "bag-taken-down",
  "bag-level-read",
  "flow-started",
  "rate-changed",
  "volume-to-infuse-set",
  "flow-paused",
  "flow-resumed",
  "flow-stopped",
  "secondary-started",
  "secondary-ended",
  "bolus-started",
  "bolus-stopped",
  "total-read",
  "totals-reset",
  "therapy-changed",
  "segment-read",
]);

/** What changes of a stay: the last is where to find the patient, the others are facts that figures follow from. */
export type ChangeOfStay = "move" | "discharge" | "dischargedAt" | "bed";

/**
 * Whether a role that may change a stay may change this of it. Whoever administers a unit admits and corrects a bed;
 * what a patient's leaving ends and whose time it is from then on, those at the bedside say.
 */
export function mayChange(role: string, what: ChangeOfStay): boolean {
  return what === "bed" || BEDSIDE.some((one) => one === role);
}

/** Whether a role that may record entries may record one of this kind. */
export function mayRecord(role: string, kind: string): boolean {
  return role !== "device" || DEVICE_KINDS.has(kind);
}
