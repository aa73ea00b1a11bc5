/**
 * A device's segments are asked for by when they ended, since one may reach back into a window of time. Adds
 * the index for that; up only.
 */

import { type Kysely, sql } from "kysely";

const SEGMENTS = `create index entry_of_segment on entry (chain, at, sequence, root)
  where kind = 'segment-read'`;

export async function up(database: Kysely<unknown>): Promise<void> {
  await sql.raw(SEGMENTS).execute(database);
}
