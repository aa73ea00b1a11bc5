/**
 * Whom a stay is of is held to its chain by a digest in the admission. What keeps that digest from being guessed
 * at stands with the patient; it is null of stays that were admitted before there was one. And an access to several
 * patients at once says of which units they were, so that it can be asked for. Up only.
 */

import { type Kysely, sql } from "kysely";

const STATEMENTS = [
  "alter table stay add column patient_salt text",
  // JSON text: a list of units, or null for every one. The column itself is null of what is about no units.
  "alter table access add column units text",
  "create index access_of_units on access (place) where units is not null",
];

export async function up(database: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(database);
}
