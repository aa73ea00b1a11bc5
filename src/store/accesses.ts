/**
 * The tables `access` and `emergency`: who read and wrote what of which encounter, and the reasons of
 * those who reached one outside of their units. Rows are added and read, and the database's own triggers
 * refuse everything else.
 */

import type { Database } from "better-sqlite3";
import { sql } from "kysely";
import type { AboutAccount, Access, Emergency } from "./callers.js";
import type { Answering, AskOf, Writing } from "./conversation.js";
import { build, prepared, query } from "./query.js";

/** An access as a row: what it is about stands in columns of its own. */
type AccessRow = Omit<Access, "about" | "units"> & {
  readonly account: string | null;
  readonly address: string | null;
  readonly change: string | null;
  readonly units: string | null;
};

export const accessQueries = {
  add: query<AccessRow>()((given) =>
    build.insertInto("access").values({
      // A place left out would be one the trigger cannot tell from a taken one.
      place: sql<number>`(select coalesce(max(place), 0) + 1 from access)`,
      at: given("at"),
      encounter: given("encounter"),
      caller: given("caller"),
      name: given("name"),
      role: given("role"),
      route: given("route"),
      status: given("status"),
      emergency: given("emergency"),
      account: given("account"),
      address: given("address"),
      change: given("change"),
      units: given("units"),
    }),
  ),
  ofAccounts: query<AskOf<"account-accesses">>()((given) =>
    build
      .selectFrom("access")
      .select(["place", "at", "encounter", "caller", "name", "role", "route", "status", "emergency"])
      .select(["account", "address", "change"])
      .where("address", "is not", null)
      .where("place", "<", given("before"))
      .orderBy("place", "desc")
      .limit(given("limit")),
  ),
  ofUnit: query<AskOf<"unit-accesses">>()((given) =>
    build
      .selectFrom("access")
      .select(["place", "at", "encounter", "caller", "name", "role", "route", "status", "emergency"])
      .select(sql<null>`null`.as("reason"))
      .where("units", "is not", null)
      .where("place", "<", given("before"))
      .where(
        sql<boolean>`(units = 'null' or ${given("unit")} in (select value from json_each(access.units)))`,
      )
      .orderBy("place", "desc")
      .limit(given("limit")),
  ),
  ofEncounter: query<AskOf<"accesses">>()((given) =>
    build
      .selectFrom("access")
      .leftJoin("emergency", "emergency.id", "access.emergency")
      .select([
        "access.place",
        "access.at",
        "access.encounter",
        "access.caller",
        "access.name",
        "access.role",
        "access.route",
        "access.status",
        "access.emergency",
        "emergency.reason",
      ])
      .where("access.encounter", "=", given("encounter"))
      .where("access.place", "<", given("before"))
      .orderBy("access.place", "desc")
      .limit(given("limit")),
  ),
  addEmergency: query<Emergency>()((given) =>
    build.insertInto("emergency").values({
      id: given("id"),
      encounter: given("encounter"),
      caller: given("caller"),
      name: given("name"),
      role: given("role"),
      reason: given("reason"),
      granted_at: given("grantedAt"),
      ends_at: given("endsAt"),
    }),
  ),
  emergency: query<AskOf<"emergency">>()((given) =>
    build
      .selectFrom("emergency")
      .select([
        "id",
        "encounter",
        "caller",
        "name",
        "role",
        "reason",
        "granted_at as grantedAt",
        "ends_at as endsAt",
      ])
      .where("encounter", "=", given("encounter"))
      .where("caller", "=", given("caller"))
      .where("ends_at", ">", given("at"))
      .orderBy("ends_at", "desc")
      .limit(sql.lit(1)),
  ),
};

export interface Accesses {
  readonly answering: Answering<"emergency" | "accesses" | "unit-accesses" | "account-accesses">;
  readonly writing: Writing<"access" | "emergency">;
}

export function accessesOf(handle: Database): Accesses {
  const accesses = prepared(handle, accessQueries);
  return {
    answering: {
      emergency: (ask) => accesses.emergency.get(ask),
      accesses: (ask) => accesses.ofEncounter.all(ask),
      "unit-accesses": (ask) => accesses.ofUnit.all(ask),
      "account-accesses": (ask) =>
        accesses.ofAccounts.all(ask).map(({ account, address, change, ...access }) => {
          const changed = change === null ? [] : (JSON.parse(change) as AboutAccount["change"]);
          return { ...access, about: { account, address: address!, change: changed } };
        }),
    },
    writing: {
      access: ({ access: { about, units, ...access } }) => {
        const { account = null, address = null, change = [] } = about ?? {};
        const changed = change.length === 0 ? null : JSON.stringify(change);
        const of = units === undefined ? null : JSON.stringify(units);
        accesses.add.run({ ...access, account, address, change: changed, units: of });
      },
      emergency: ({ emergency }) => {
        accesses.addEmergency.run(emergency);
      },
    },
  };
}
