/**
 * The first shape of the database: entries in chains, the checkpoints computed from them, the
 * directory of units and stays, kept answers and tokens. Up only: a ledger is never migrated back.
 *
 * Entries are append-only twice over: the store has no function that changes one, and the triggers
 * here refuse UPDATE, DELETE and REPLACE on every unique key, whichever program holds the file.
 * Instants are whole milliseconds, and STRICT keeps anything but whole numbers out of them.
 */

import { type Kysely, sql } from "kysely";

/**
 * An append writes each page it touches whole, so what is wide is kept in one place: entries lie in
 * order of recording, whatever their chain, and the indexes hold a chain's number instead of its name.
 * For the same reason no index is on the time of recording: it only grows along a chain.
 */
const ENTRY = [
  `create table chain (
    number integer primary key,
    name text not null unique check (name glob 'encounter/?*' or name glob 'unit/?*')
  ) strict`,
  `create table entry (
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
    unique (chain, id)
  ) strict`,
  // Those that find families hold sequence and root, so that finding never reads the entries' text.
  `create index entry_by_time on entry (chain, at, sequence, root) where at is not null`,
  // Only for the kinds that are asked for by their kind: each index more costs every append a page.
  `create index entry_of_stay on entry (chain, kind, sequence, root)
    where kind in ('admitted', 'moved', 'discharged', 'settings-changed')`,
  `create index entry_by_declaration on entry (chain, declares, sequence, root) where declares is not null`,
  `create index entry_by_root on entry (chain, root, sequence) where root is not null`,
];

/**
 * REPLACE deletes what it collides with, and a connection without recursive_triggers fires no delete
 * trigger for that; so the collision itself is refused, on each unique key. Of the keys that are
 * rowids every one but the next is refused: a trigger cannot tell a missing one from a taken one.
 */
const GUARDS = [
  `create trigger chain_only_added before insert on chain
    when new.number is not (select coalesce(max(number), 0) + 1 from chain)
      or exists (select 1 from chain where name = new.name)
    begin select raise(abort, 'a chain is never replaced'); end`,
  `create trigger chain_never_changed before update on chain
    begin select raise(abort, 'a chain is never changed'); end`,
  `create trigger chain_never_deleted before delete on chain
    begin select raise(abort, 'a chain is never deleted'); end`,
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

/** Of the states of a chain at one instant, at most one holds as of now. */
const CHECKPOINT = [
  `create table checkpoint (
    chain text not null,
    at integer not null,
    valid_from integer not null,
    valid_to integer,
    text text not null
  ) strict`,
  `create unique index checkpoint_by_time on checkpoint (chain, at, valid_from)`,
  `create unique index checkpoint_that_holds on checkpoint (chain, at) where valid_to is null`,
];

const DIRECTORY = [
  `create table unit (id text not null primary key) strict, without rowid`,
  `create table stay (
    encounter text not null primary key,
    unit text not null references unit (id),
    bed text,
    patient_identifier text not null,
    patient_name text,
    admitted_at integer not null,
    discharged_at integer
  ) strict, without rowid`,
  `create index stay_by_unit on stay (unit, encounter)`,
  // Open stays are a few dozen among years of ended ones.
  `create index stay_open on stay (encounter) where discharged_at is null`,
  `create index stay_open_by_unit on stay (unit, encounter) where discharged_at is null`,
];

const CALLERS = [
  `create table kept_answer (
    scope text not null,
    key text not null,
    fingerprint text not null,
    status integer not null,
    body text not null,
    headers text not null,
    recorded_at integer not null,
    primary key (scope, key)
  ) strict`,
  `create table token (
    id text not null primary key,
    hash text not null unique,
    role text not null,
    name text not null,
    unit text,
    created_at integer not null
  ) strict, without rowid`,
];

export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [...ENTRY, ...GUARDS, ...CHECKPOINT, ...DIRECTORY, ...CALLERS]) {
    await sql.raw(statement).execute(db);
  }
}
