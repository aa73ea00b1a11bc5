/**
 * Why a request is not done: values, never thrown. Each is one problem type of the API; the order in
 * which a request is judged is the order of this list.
 */

import type { Fault } from "../wire/fault.js";

export type Refusal =
  | { readonly problem: "unauthenticated"; readonly detail: string }
  | { readonly problem: "too-many-requests"; readonly seconds: number }
  | {
      readonly problem: "not-found";
      readonly what: "encounter" | "unit" | "entry" | "shift" | "finding" | "chart" | "account" | "provider";
      readonly id: string;
    }
  | { readonly problem: "forbidden" | "not-your-time"; readonly detail: string }
  | { readonly problem: "cross-site" }
  | {
      readonly problem: "bad-parameter";
      readonly errors: readonly {
        readonly parameter: string;
        readonly code: string;
        readonly detail: string;
      }[];
    }
  | { readonly problem: "idempotency-key-reused" }
  | { readonly problem: "stale-etag"; readonly sequence: number; readonly since: number | null }
  | { readonly problem: "invalid-entries"; readonly errors: readonly Fault[] }
  | { readonly problem: "invalid-body"; readonly errors: readonly Fault[] }
  | { readonly problem: "entry-exists"; readonly ids: readonly string[] }
  /** A person is asked before anything is recorded; the members are those of the problem's document. */
  | {
      readonly problem: "totals-at-risk" | "reading-disagrees" | "digest-changed" | "questions-open";
      readonly detail: string;
      readonly members: object;
    }
  | {
      readonly problem: "id-exists";
      readonly what: "unit" | "encounter" | "entry" | "account";
      readonly id: string;
    };

export type Outcome<T> = { readonly refused: Refusal } | { readonly refused?: undefined; readonly done: T };

export function refused(refusal: Refusal): { readonly refused: Refusal } {
  return { refused: refusal };
}

export function done<T>(answer: T): { readonly done: T } {
  return { done: answer };
}
