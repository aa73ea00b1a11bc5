/**
 * What people do about the figures has kinds of its own in the chain (a finding acknowledged, a span
 * signed, a chart posted), and is asked for by its kind. A device's segments are asked for by when they
 * ended, since one may reach back into a window of time. Adds the indexes for that; up only.
 */

import { type Kysely, sql } from "kysely";

const ACTS = `create index entry_of_act on entry (chain, kind, sequence, root)
  where kind in ('finding-acknowledged', 'shift-signed', 'chart-posted')`;

const SEGMENTS = `create index entry_of_segment on entry (chain, at, sequence, root)
  where kind = 'segment-read'`;

export async function up(database: Kysely<unknown>): Promise<void> {
  for (const statement of [ACTS, SEGMENTS]) await sql.raw(statement).execute(database);
}
