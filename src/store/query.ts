/**
 * Queries: written with the typed builder, compiled once when the program loads, prepared once per
 * connection, and then only bound and run. Values are always named parameters (`@chain`), bound
 * from an object of that shape; a value built into the text of a query is a mistake and throws.
 */

import type { Database, Statement } from "better-sqlite3";
import {
  type Compilable,
  DummyDriver,
  Kysely,
  type RawBuilder,
  SqliteAdapter,
  SqliteIntrospector,
  SqliteQueryCompiler,
  sql,
} from "kysely";
import type { Tables } from "./schema.js";

/** Makes the text of queries and has no connection to run one on. */
export const build = new Kysely<Tables>({
  dialect: {
    createAdapter: () => new SqliteAdapter(),
    createDriver: () => new DummyDriver(),
    createIntrospector: (db) => new SqliteIntrospector(db),
    createQueryCompiler: () => new SqliteQueryCompiler(),
  },
});

declare const shape: unique symbol;

/** The text of a query that is bound from a `P` and, if it reads, finds `R`s. */
export interface Query<P, R> {
  readonly sql: string;
  readonly [shape]?: (bound: P) => R;
}

/** A named parameter of a query: the property of that name of the object it is bound from. */
export type Given<P> = <K extends keyof P & string>(name: K) => RawBuilder<P[K]>;

/**
 * Compiles a query bound from a `P`: `query<{ chain: Chain }>()((given) => build.selectFrom(…)…)`.
 * In two calls, because `P` is stated and what the query finds is inferred.
 * Throws a TypeError if a value was built in; `sql.lit` is for constants.
 */
export function query<P>() {
  return <R>(make: (given: Given<P>) => Compilable<R>): Query<P, R> => {
    const compiled = make((name) => sql.raw(`@${name}`)).compile();
    if (compiled.parameters.length > 0) throw new TypeError(`a value is built into: ${compiled.sql}`);
    return { sql: compiled.sql };
  };
}

type Prepared<Q> = Q extends Query<infer P, infer R> ? Statement<[P], R> : never;

/** Prepares every query of a list on a connection, under the names they have there. */
export function prepared<Q extends Readonly<Record<string, Query<never, unknown>>>>(
  handle: Database,
  queries: Q,
): { readonly [K in keyof Q]: Prepared<Q[K]> } {
  const statements = Object.entries(queries).map(([name, { sql }]) => [name, handle.prepare(sql)]);
  return Object.fromEntries(statements) as { [K in keyof Q]: Prepared<Q[K]> };
}
