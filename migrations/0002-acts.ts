/**
 * What people do about the figures has kinds of its own in the chain (a finding acknowledged, a span
 * signed, a chart posted), and is asked for by its kind. Adds the index for that; up only.
 */

import { type Kysely, sql } from "kysely";

const ACTS = `create index entry_of_act on entry (chain, kind, sequence, root)
  where kind in ('finding-acknowledged', 'shift-signed', 'chart-posted')`;

export async function up(database: Kysely<unknown>): Promise<void> {
  await sql.raw(ACTS).execute(database);
}
