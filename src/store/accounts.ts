/**
 * The tables `account` and `session`: people who sign in, and what stands for them while they are
 * signed in. Of passwords and sessions only hashes are here.
 */

import type { Database } from "better-sqlite3";
import type { Instant } from "../time/instant.js";
import type { AccountRecord, FoundSession, SessionRecord } from "./callers.js";
import { build, prepared, query } from "./query.js";
import { type WithUnitsText, withUnits, withUnitsText } from "./units-text.js";

type AccountRow = Omit<WithUnitsText<AccountRecord>, "active"> & { readonly active: 0 | 1 };

const columns = [
  "account.id",
  "account.username",
  "account.name",
  "account.role",
  "account.units",
  "account.password",
  "account.active",
  "account.created_at as createdAt",
] as const;

const whole = build.selectFrom("account").select(columns);

export const accountQueries = {
  add: query<AccountRow>()((given) =>
    build.insertInto("account").values({
      id: given("id"),
      username: given("username"),
      name: given("name"),
      role: given("role"),
      units: given("units"),
      password: given("password"),
      active: given("active"),
      created_at: given("createdAt"),
    }),
  ),
  byUsername: query<{ username: string }>()((given) => whole.where("username", "=", given("username"))),
  byId: query<{ id: string }>()((given) => whole.where("id", "=", given("id"))),
  page: query<{ after: string; limit: number }>()((given) =>
    whole.where("username", ">", given("after")).orderBy("username").limit(given("limit")),
  ),
  change: query<AccountRow>()((given) =>
    build
      .updateTable("account")
      .set({
        name: given("name"),
        role: given("role"),
        units: given("units"),
        password: given("password"),
        active: given("active"),
      })
      .where("id", "=", given("id")),
  ),
};

export const sessionQueries = {
  add: query<SessionRecord>()((given) =>
    build.insertInto("session").values({
      hash: given("hash"),
      account: given("account"),
      created_at: given("createdAt"),
      used_at: given("usedAt"),
    }),
  ),
  byHash: query<{ hash: string }>()((given) =>
    build
      .selectFrom("session")
      .innerJoin("account", "account.id", "session.account")
      .select(columns)
      .select(["session.hash", "session.created_at as begunAt", "session.used_at as usedAt"])
      .where("session.hash", "=", given("hash")),
  ),
  used: query<{ hash: string; at: Instant }>()((given) =>
    build
      .updateTable("session")
      .set({ used_at: given("at") })
      .where("hash", "=", given("hash")),
  ),
  end: query<{ hash: string }>()((given) => build.deleteFrom("session").where("hash", "=", given("hash"))),
  endOf: query<{ account: string }>()((given) =>
    build.deleteFrom("session").where("account", "=", given("account")),
  ),
  endUnused: query<{ since: Instant }>()((given) =>
    build.deleteFrom("session").where("used_at", "<", given("since")),
  ),
};

export interface Accounts {
  /** Throws the constraint's error when the id or the username is there already. */
  add(account: AccountRecord): void;
  byUsername(username: string): AccountRecord | undefined;
  byId(id: string): AccountRecord | undefined;
  page(after: string, limit: number): readonly AccountRecord[];
  change(account: AccountRecord): void;
}

export function accountsOf(handle: Database): Accounts {
  const accounts = prepared(handle, accountQueries);
  return {
    add: (account) => {
      accounts.add.run(rowOf(account));
    },
    byUsername: (username) => recordOf(accounts.byUsername.get({ username })),
    byId: (id) => recordOf(accounts.byId.get({ id })),
    page: (after, limit) => accounts.page.all({ after, limit }).map((row) => recordOf(row)!),
    change: (account) => {
      accounts.change.run(rowOf(account));
    },
  };
}

export interface Sessions {
  add(session: SessionRecord): void;
  byHash(hash: string): FoundSession | undefined;
  used(hash: string, at: Instant): void;
  end(hash: string): void;
  endOf(account: string): void;
  endUnused(since: Instant): void;
}

export function sessionsOf(handle: Database): Sessions {
  const sessions = prepared(handle, sessionQueries);
  return {
    add: (session) => {
      sessions.add.run(session);
    },
    byHash: (hash) => {
      const found = sessions.byHash.get({ hash });
      if (found === undefined) return undefined;
      const { begunAt, usedAt, hash: _, ...account } = found;
      return { hash, account: account.id, createdAt: begunAt, usedAt, of: recordOf(account)! };
    },
    used: (hash, at) => {
      sessions.used.run({ hash, at });
    },
    end: (hash) => {
      sessions.end.run({ hash });
    },
    endOf: (account) => {
      sessions.endOf.run({ account });
    },
    endUnused: (since) => {
      sessions.endUnused.run({ since });
    },
  };
}

function rowOf(account: AccountRecord): AccountRow {
  return { ...withUnitsText(account), active: account.active ? 1 : 0 };
}

function recordOf(row: AccountRow | undefined): AccountRecord | undefined {
  return row && { ...withUnits(row), active: row.active === 1 };
}
