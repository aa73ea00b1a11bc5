/**
 * What a route of the API is: how it is asked, what it answers, which problems it can have, and the
 * function that answers. The service is registered from it and the API description written from it, so
 * neither can say what the other does not.
 */

import type { IncomingHttpHeaders } from "node:http";
import type { Readable } from "node:stream";
import type { z } from "zod";
import type { Access } from "../access/access.js";
import type { Session } from "../access/sessions.js";
import type { Caller, Ledger } from "../ledger/ledger.js";
import type { Outcome } from "../ledger/refusal.js";
import type { AboutAccount } from "../store/callers.js";
import type { Fault } from "../wire/fault.js";
import { parse } from "../wire/parse.js";
import type { ProblemName } from "./problems.js";
import type { Streams } from "./stream.js";

/** One answer that is no problem. */
export interface Answer {
  readonly status: 200 | 201 | 204 | 302 | 304;
  readonly description: string;
  /** None for an answer without a body. */
  readonly schema?: z.ZodType;
  readonly headers?: readonly AnswerHeader[];
  /** Absent: JSON. Of a stream the schema is that of one event's data. */
  readonly media?: "application/json" | "text/event-stream";
  /** The same as a table of comma-separated values, for who prefers that: what stands in it. */
  readonly csv?: string;
}

/** What a computed answer says to who has it already. */
export const UNCHANGED: Answer = {
  status: 304,
  description: "The answer is the one whose ETag was sent.",
  headers: ["ETag"],
};

export type AnswerHeader =
  | "ETag"
  | "Location"
  | "Link"
  | "Retry-After"
  | "WWW-Authenticate"
  | "Set-Cookie"
  | "Content-Disposition";

/** A request header that a route understands. */
export type RequestHeader = "If-Match" | "If-None-Match" | "Idempotency-Key" | "Last-Event-ID";

/** How the body of a route is read: its schema for the description, its parser for the service. */
export interface BodyOf<B> {
  readonly schema: z.ZodType;
  readonly description: string;
  readonly read: (
    body: unknown,
  ) => { readonly value: B; readonly faults?: undefined } | { readonly faults: readonly Fault[] };
  /** The problem that a body with faults is. */
  readonly problem: "invalid-entries" | "invalid-body";
}

/** What a route knows of a request that has been let in and whose form is right. */
export interface Asked<Q, B> {
  readonly caller: Caller;
  /** The route's own name, such as `POST /v1/units`. */
  readonly route: string;
  /** The path's parameters, such as `encounter`. */
  readonly ids: Readonly<Record<string, string>>;
  readonly query: Q;
  readonly body: B;
  /** The body as it was sent. */
  readonly sent: unknown;
  readonly headers: IncomingHttpHeaders;
  /** The path and the query as they were sent. */
  readonly url: string;
  readonly access: Access;
  readonly streams: Streams;
  /** The session whose cookie came with the request; null for a token. */
  readonly session: Session | null;
  /** Where the request came from. */
  readonly address: string;
  /** Says for the log of accesses that the request is about an account, and who made it where that was not known. */
  readonly about: (account: Omit<AboutAccount, "address">, caller?: Caller) => void;
  /** For what whoever runs the service must notice. */
  readonly warn: (fields: object, message: string) => void;
}

/** An answer about to be sent; a string or a stream is written already, as JSON unless its headers say otherwise. */
export interface Answered {
  readonly status: 200 | 201 | 204 | 302 | 304;
  readonly body: string | object | Readable | null;
  /** The encounter it made or tells of, where the address does not say. */
  readonly encounter?: string | undefined;
  /** The emergency access it granted. */
  readonly emergency?: string;
  readonly headers?: Readonly<Record<string, string | string[]>>;
}

export interface Route<Q = unknown, B = unknown> {
  readonly method: "GET" | "POST" | "PATCH" | "DELETE";
  /** With its parameters in braces: `/v1/units/{unit}`. */
  readonly path: `/v1/${string}`;
  /** The name of the operation in the description and in clients generated from it. */
  readonly operation: string;
  readonly tag:
    | "Encounters"
    | "Entries"
    | "Answers"
    | "Charts"
    | "Findings"
    | "Units"
    | "Audit"
    | "Access"
    | "Service";
  readonly summary: string;
  readonly description: string;
  /** Needs no caller, since this is how to become one. */
  readonly open?: true;
  readonly query?: z.ZodType<Q>;
  readonly headers?: readonly RequestHeader[];
  readonly body?: BodyOf<B>;
  readonly answers: readonly Answer[];
  /** The problems of this route besides those that every route can have. */
  readonly problems: readonly ProblemName[];
  readonly handle: (ledger: Ledger, asked: Asked<Q, B>) => Promise<Outcome<Answered>>;
}

/** A route among others, whose query and body are nobody else's business. */
export type AnyRoute = Route<never, never>;

/** Types a route by its own query and body. */
export function route<Q = Record<string, never>, B = undefined>(route: Route<Q, B>): AnyRoute {
  return route as unknown as AnyRoute;
}

/** A body that is what its schema says, or `invalid-body`. */
export function bodyOf<B>(schema: z.ZodType<B>, description: string): BodyOf<B> {
  return { schema, description, read: (body) => parse(schema, body), problem: "invalid-body" };
}

/** How rules, logs and tests call a route: `GET /v1/units/{unit}`. */
export function nameOf({ method, path }: { readonly method: string; readonly path: string }): string {
  return `${method} ${path}`;
}
