/** The table `place`: where accounts have signed in from, as hashes of browsers' secrets and of addresses. */

import type { Database } from "better-sqlite3";
import { sql } from "kysely";
import type { Instant } from "../time/instant.js";
import { build, prepared, query } from "./query.js";

interface Place {
  readonly account: string;
  readonly hash: string;
}

export const placeQueries = {
  one: query<Place>()((given) =>
    build
      .selectFrom("place")
      .select("hash")
      .where("account", "=", given("account"))
      .where("hash", "=", given("hash")),
  ),
  anybodys: query<{ hash: string }>()((given) =>
    build.selectFrom("place").select("hash").where("hash", "=", given("hash")).limit(sql.lit(1)),
  ),
  use: query<Place & { at: Instant }>()((given) =>
    build
      .insertInto("place")
      .values({ account: given("account"), hash: given("hash"), used_at: given("at") })
      .onConflict((conflict) =>
        conflict.columns(["hash", "account"]).doUpdateSet((e) => ({ used_at: e.ref("excluded.used_at") })),
      ),
  ),
  forget: query<{ before: Instant }>()((given) =>
    build.deleteFrom("place").where("used_at", "<", given("before")),
  ),
};

export interface Places {
  known(account: string, hashes: readonly string[]): readonly string[];
  isAnybodys(hash: string): boolean;
  used(account: string, hashes: readonly string[], at: Instant, forgetBefore: Instant): void;
}

export function placesOf(handle: Database): Places {
  const places = prepared(handle, placeQueries);
  return {
    known: (account, hashes) => hashes.filter((hash) => places.one.get({ account, hash }) !== undefined),
    isAnybodys: (hash) => places.anybodys.get({ hash }) !== undefined,
    used: (account, hashes, at, forgetBefore) => {
      for (const hash of hashes) places.use.run({ account, hash, at });
      places.forget.run({ before: forgetBefore });
    },
  };
}
