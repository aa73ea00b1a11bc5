/**
 * A signature covers a span of time, and whoever computes figures asks which of them do. Adds the index by
 * the end of the span for that; up only.
 */

import { type Kysely, sql } from "kysely";

const SIGNATURES = `create index entry_of_signature on entry (chain, at, sequence, root)
  where kind = 'shift-signed'`;

export async function up(database: Kysely<unknown>): Promise<void> {
  await sql.raw(SIGNATURES).execute(database);
}
