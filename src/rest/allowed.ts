/**
 * Whether a caller may use a route for the ids in its address: whether the unit or the encounter is there
 * for them (404), and only then whether the role may (403) and the request is their own doing.
 */

import type { IncomingHttpHeaders } from "node:http";
import type { Access as Accessing } from "../access/access.js";
import { isFinishing, isForEveryUnit, isOutOfReach, mayUse } from "../access/rules.js";
import type { Session } from "../access/sessions.js";
import type { Caller, Ledger } from "../ledger/ledger.js";
import type { Refusal } from "../ledger/refusal.js";
import type { Access } from "../store/callers.js";
import { isCrossSite } from "./cookies.js";
import { type AnyRoute, nameOf } from "./route.js";

interface Question {
  readonly ledger: Ledger;
  readonly access: Accessing;
  readonly caller: Caller;
  readonly session: Session | null;
  readonly route: AnyRoute;
  readonly ids: Readonly<Record<string, string>>;
  readonly method: string;
  readonly headers: IncomingHttpHeaders;
}

/** An encounter, and the emergency by which it was reached; or of which units the patients of a list are. */
type Concerns = Pick<Access, "encounter" | "emergency" | "units">;

export interface Allowed {
  /** Why they may not; undefined where they may. */
  readonly refused: Refusal | undefined;
  /** The caller as they may act in this request. */
  readonly caller: Caller;
  /** What the log of accesses is to say; null for what is about no patient. */
  readonly concerns: Concerns | null;
}

export async function allowed(question: Question): Promise<Allowed> {
  const { ledger, access, caller, route, ids } = question;
  const name = nameOf(route);
  const { encounter, unit } = ids;
  if (encounter !== undefined) {
    const reach = await access.reaching.of(caller, encounter, route.method !== "GET");
    // Of a unit that is not theirs is the same as not there; who tried is kept all the same.
    if (
      reach === undefined ||
      (reach.by === "nothing" && !(isOutOfReach(name) && mayUse(caller.role, name)))
    ) {
      const concerns = reach === undefined ? null : { encounter, emergency: null };
      return { refused: { problem: "not-found", what: "encounter", id: encounter }, caller, concerns };
    }
    const emergency = reach.by === "emergency" ? reach.id : null;
    const left = reach.by === "having-been-there" && !isFinishing(name) && !isOutOfReach(name);
    return {
      refused: byRole(question) ?? (left ? LEFT : undefined),
      caller: emergency === null ? caller : { ...caller, inEmergency: true },
      concerns: { encounter, emergency },
    };
  }
  // Of several patients at once, which the log keeps as a list: of the unit asked of, or of all of the caller's.
  const units = unit === undefined ? caller.units : [unit];
  const ofPatients = route.tag === "Encounters" || route.tag === "Audit";
  const concerns = ofPatients ? { encounter: null, emergency: null, units } : null;
  if (unit !== undefined) {
    const theirs = caller.units === null || caller.units.includes(unit);
    const isThere = !(await ledger.unit(unit)).refused;
    if (!theirs || !isThere) {
      const refused = { problem: "not-found", what: "unit", id: unit } as const;
      return { refused, caller, concerns: isThere ? concerns : null };
    }
  }
  return { refused: byRole(question), caller, concerns };
}

const LEFT: Refusal = {
  problem: "not-your-time",
  detail: "The patient has left your units, from which only their own time is charted and signed now.",
};

function byRole({ access, caller, session, route, method, headers }: Question): Refusal | undefined {
  if (!mayUse(caller.role, nameOf(route))) {
    const detail = `The role ${caller.role} may not do this: ${route.summary.toLowerCase()}.`;
    return { problem: "forbidden", detail };
  }
  if (caller.units !== null && isForEveryUnit(nameOf(route))) {
    const detail = `This ${caller.role} is for some units, and this is for one of every unit.`;
    return { problem: "forbidden", detail };
  }
  // A cookie is sent by the browser, whoever made it ask; a token only by who has it.
  const unsafe = method !== "GET" && method !== "HEAD";
  if (session !== null && unsafe && isCrossSite(headers, access.settings)) return { problem: "cross-site" };
  return undefined;
}
