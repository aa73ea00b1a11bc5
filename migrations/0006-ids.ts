/**
 * Ids are made in order of time, so an index that begins with them grows at one end: whoever records for fifty
 * patients at once touches one page of it, where an index that begins with the chain has one for each.
 * SQLite cannot change a key of a table, so the entries move to a new one, with all indexes and guards. Up only.
 */

import { type Kysely, sql } from "kysely";

const MOVE = [
  `create table entry_by_id (
    place integer primary key,
    chain integer not null references chain (number),
    sequence integer not null check (sequence >= 1),
    id text not null,
    kind text not null,
    at integer,
    root integer check (root < sequence),
    declares text,
    recorded_at integer not null,
    text text not null,
    digest text not null check (length(digest) = 64 and digest not glob '*[^0-9a-f]*'),
    unique (chain, sequence),
    unique (id, chain)
  ) strict`,
  `insert into entry_by_id
    (place, chain, sequence, id, kind, at, root, declares, recorded_at, text, digest)
    select place, chain, sequence, id, kind, at, root, declares, recorded_at, text, digest
    from entry order by place`,
  // Takes its indexes and triggers with it, and fires none.
  `drop table entry`,
  `alter table entry_by_id rename to entry`,
];

const INDEXES = [
  `create index entry_by_time on entry (chain, at, sequence, root) where at is not null`,
  `create index entry_of_stay on entry (chain, kind, sequence, root)
    where kind in ('admitted', 'moved', 'discharged', 'settings-changed')`,
  `create index entry_of_act on entry (chain, kind, sequence, root)
    where kind in ('finding-acknowledged', 'shift-signed', 'chart-posted')`,
  `create index entry_of_segment on entry (chain, at, sequence, root) where kind = 'segment-read'`,
  `create index entry_of_signature on entry (chain, at, sequence, root) where kind = 'shift-signed'`,
  `create index entry_by_declaration on entry (chain, declares, sequence, root) where declares is not null`,
  `create index entry_by_root on entry (chain, root, sequence) where root is not null`,
];

/** As they were: on each unique key the collision that REPLACE needs is refused itself. */
const GUARDS = [
  `create trigger entry_only_added before insert on entry
    when new.place is not (select coalesce(max(place), 0) + 1 from entry)
      or exists (select 1 from entry where chain = new.chain and sequence = new.sequence)
      or exists (select 1 from entry where chain = new.chain and id = new.id)
    begin select raise(abort, 'an entry is never replaced'); end`,
  `create trigger entry_follows before insert on entry
    when new.sequence > 1 and not exists
      (select 1 from entry where chain = new.chain and sequence = new.sequence - 1
        and recorded_at <= new.recorded_at)
    begin select raise(abort, 'an entry follows the one before it, without a gap and no earlier'); end`,
  `create trigger entry_hangs_on_original before insert on entry
    when new.root is not null and not exists
      (select 1 from entry where chain = new.chain and sequence = new.root and root is null)
    begin select raise(abort, 'a correction hangs on an original entry of its chain'); end`,
  `create trigger entry_never_changed before update on entry
    begin select raise(abort, 'an entry is never changed'); end`,
  `create trigger entry_never_deleted before delete on entry
    begin select raise(abort, 'an entry is never deleted'); end`,
];

export async function up(database: Kysely<unknown>): Promise<void> {
  for (const statement of [...MOVE, ...INDEXES, ...GUARDS]) await sql.raw(statement).execute(database);
}
