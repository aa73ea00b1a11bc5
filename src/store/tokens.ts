/**
 * The table `token`: named callers with a bearer token. Only the hash of a token is kept, so what
 * is read from here lets nobody in.
 */

import type { Database } from "better-sqlite3";
import { build, prepared, query } from "./query.js";
import type { TokenRecord } from "./store.js";

const whole = build
  .selectFrom("token")
  .select(["id", "hash", "role", "name", "unit", "created_at as createdAt"]);

export const tokenQueries = {
  add: query<TokenRecord>()((given) =>
    build.insertInto("token").values({
      id: given("id"),
      hash: given("hash"),
      role: given("role"),
      name: given("name"),
      unit: given("unit"),
      created_at: given("createdAt"),
    }),
  ),
  byHash: query<{ hash: string }>()((given) => whole.where("hash", "=", given("hash"))),
  every: query<Record<never, never>>()(() => whole.orderBy("id")),
};

export interface Tokens {
  /** Throws the constraint's error when the id or the hash is there already. */
  add(token: TokenRecord): void;
  byHash(hash: string): TokenRecord | undefined;
  /** In order of id. */
  every(): readonly TokenRecord[];
}

export function tokensOf(handle: Database): Tokens {
  const tokens = prepared(handle, tokenQueries);
  return {
    add: (token) => {
      tokens.add.run(token);
    },
    byHash: (hash) => tokens.byHash.get({ hash }),
    every: () => tokens.every.all({}),
  };
}
