/** From a refusal of the ledger to the problem that the API answers. */

import type { Refusal } from "../ledger/refusal.js";
import type { Problem } from "./problems.js";

/** What of a request a problem may speak about. */
export interface Refused {
  /** The path's parameters. */
  readonly ids: Readonly<Record<string, string>>;
  /** The body as it was sent. */
  readonly body: unknown;
}

export function problemOf(refusal: Refusal, refused: Refused): Problem {
  switch (refusal.problem) {
    case "not-found":
      return { name: "not-found", detail: `There is no ${refusal.what} "${refusal.id}" here.` };
    case "unauthenticated":
      return unauthenticated(refusal.detail, BEARER);
    case "too-many-requests":
      return tooManyRequests(refusal.seconds);
    case "cross-site":
      return { name: "cross-site", detail: "The request comes from a page of another site." };
    case "forbidden":
    case "not-your-time":
      return { name: refusal.problem, detail: refusal.detail };
    case "bad-parameter":
      return { name: "bad-parameter", members: { errors: refusal.errors } };
    case "idempotency-key-reused":
      return { name: "idempotency-key-reused", detail: "This key came with another request before." };
    case "stale-etag":
      return stale(refusal.sequence, refusal.since, refused.ids.encounter ?? "");
    case "invalid-entries":
    case "invalid-body":
      return { name: refusal.problem, members: { errors: refusal.errors } };
    case "entry-exists": {
      const detail = `Entries with other bodies have these ids: ${refusal.ids.map((id) => `"${id}"`).join(", ")}.`;
      return { name: "entry-exists", detail, members: { entries: placesOf(refusal.ids, refused.body) } };
    }
    case "totals-at-risk":
    case "reading-disagrees":
    case "digest-changed":
    case "questions-open":
      return { name: refusal.problem, detail: refusal.detail, members: refusal.members };
    case "id-exists": {
      const detail = `There is ${refusal.what === "unit" ? "a" : "an"} ${refusal.what} "${refusal.id}" already.`;
      return { name: "id-exists", detail, members: { id: refusal.id } };
    }
    default:
      return refusal satisfies never;
  }
}

function stale(sequence: number, since: number | null, encounter: string): Problem {
  const address = `/v1/encounters/${encounter}/entries?order=recorded`;
  const entries = since === null ? address : `${address}&after=${since}`;
  const detail = `The encounter has ${sequence} ${sequence === 1 ? "entry" : "entries"} now.`;
  return {
    name: "precondition-failed",
    detail,
    members: { sequence, entries },
    headers: { etag: `"${sequence}"` },
  };
}

/** RFC 6750, section 3: how to come in. */
export const BEARER = 'Bearer realm="ledger"';

export function unauthenticated(detail: string, challenge: string): Problem {
  return { name: "unauthenticated", detail, headers: { "www-authenticate": challenge } };
}

export function tooManyRequests(seconds: number): Problem {
  const headers = { "retry-after": String(seconds) };
  return { name: "too-many-requests", detail: `Try again in ${seconds} s.`, headers };
}

/** Where the ids stand in the body. */
function placesOf(ids: readonly string[], body: unknown): { pointer: string; id: string }[] {
  const { entries } = body as { readonly entries: readonly { readonly id?: string }[] };
  return entries.flatMap(({ id }, index) =>
    id !== undefined && ids.includes(id) ? [{ pointer: `#/entries/${index}/id`, id }] : [],
  );
}
