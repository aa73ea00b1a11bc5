/**
 * Who signed in and whose account was changed stands in the log of accesses: three columns more, and an index for
 * asking for those. Where an account is known from, a few hashes. Which unit a patient left when, so that its staff
 * find them while they finish charting. And whom a stay is of is taken out of the answers kept for retries. Up only.
 */

import { type Kysely, sql } from "kysely";

const ACCESSES = [
  // The account it is about; null where a name was nobody's.
  `alter table access add column account text`,
  // Where it came from: of sign-ins and of what is done to accounts alone.
  `alter table access add column address text`,
  // What of the account changed: JSON text.
  `alter table access add column change text`,
  `create index access_of_accounts on access (place) where address is not null`,
];

const PLACES = [
  `create table place (
    hash text not null,
    account text not null references account (id),
    used_at integer not null,
    primary key (hash, account)
  ) strict, without rowid`,
  `create index place_by_use on place (used_at)`,
];

const DEPARTURES = [
  `create table departure (
    unit text not null,
    encounter text not null,
    left_at integer not null,
    primary key (unit, encounter)
  ) strict, without rowid`,
  `create index departure_by_time on departure (unit, left_at)`,
  `create index departure_of_encounter on departure (encounter)`,
];

const KEPT = [
  `update kept_answer set body = json_remove(body, '$.patient')
    where scope like '% POST /v1/encounters' and json_valid(body)`,
];

export async function up(database: Kysely<unknown>): Promise<void> {
  for (const statement of [...ACCESSES, ...PLACES, ...DEPARTURES, ...KEPT]) {
    await sql.raw(statement).execute(database);
  }
}
