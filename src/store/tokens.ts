/**
 * The table `token`: named callers with a bearer token. Only the hash of a token is kept, so what
 * is read from here lets nobody in. A token that was revoked stays, and says since when.
 */

import type { Database } from "better-sqlite3";
import type { Instant } from "../time/instant.js";
import type { TokenRecord } from "./callers.js";
import { build, prepared, query } from "./query.js";
import { type WithUnitsText, withUnits, withUnitsText } from "./units-text.js";

const whole = build
  .selectFrom("token")
  .select([
    "id",
    "hash",
    "role",
    "name",
    "units",
    "created_at as createdAt",
    "expires_at as expiresAt",
    "revoked_at as revokedAt",
  ]);

export const tokenQueries = {
  add: query<WithUnitsText<TokenRecord>>()((given) =>
    build.insertInto("token").values({
      id: given("id"),
      hash: given("hash"),
      role: given("role"),
      name: given("name"),
      units: given("units"),
      created_at: given("createdAt"),
      expires_at: given("expiresAt"),
      revoked_at: given("revokedAt"),
    }),
  ),
  byHash: query<{ hash: string }>()((given) => whole.where("hash", "=", given("hash"))),
  every: query<Record<never, never>>()(() => whole.orderBy("id")),
  revoke: query<{ id: string; at: Instant }>()((given) =>
    build
      .updateTable("token")
      .set({ revoked_at: given("at") })
      .where("id", "=", given("id"))
      .where("revoked_at", "is", null),
  ),
};

export interface Tokens {
  /** Throws the constraint's error when the id or the hash is there already. */
  add(token: TokenRecord): void;
  byHash(hash: string): TokenRecord | undefined;
  /** In order of id. */
  every(): readonly TokenRecord[];
  /** Whether there was one of this id that had not been revoked. */
  revoke(id: string, at: Instant): boolean;
}

export function tokensOf(handle: Database): Tokens {
  const tokens = prepared(handle, tokenQueries);
  return {
    add: (token) => {
      tokens.add.run(withUnitsText(token));
    },
    byHash: (hash) => {
      const found = tokens.byHash.get({ hash });
      return found && withUnits(found);
    },
    every: () => tokens.every.all({}).map(withUnits),
    revoke: (id, at) => tokens.revoke.run({ id, at }).changes > 0,
  };
}
