/**
 * What the audit of a unit asks for: who was there at a time, by when stays ended and when patients moved, or
 * when that was recorded; and whether anything was put in to irrigate. Adds the indexes for that; up only.
 */

import { type Kysely, sql } from "kysely";

const INDEXES = [
  `create index stay_by_end on stay (unit, discharged_at) where discharged_at is not null`,
  `create index entry_of_move on entry (at, chain) where kind = 'moved'`,
  `create index entry_of_instilled on entry (chain, kind, sequence, root) where kind = 'irrigant-instilled'`,
  `create index entry_of_move_by_recording on entry (recorded_at, chain) where kind = 'moved'`,
];

export async function up(database: Kysely<unknown>): Promise<void> {
  for (const statement of INDEXES) await sql.raw(statement).execute(database);
}
