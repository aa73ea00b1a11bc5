/**
 * Who is let in, and who was: accounts of people with their sessions, tokens that expire and can be
 * revoked and are for several units, emergency access with its reason, and the log of who read and wrote
 * what. The log and the reasons are append-only as entries are. Up only.
 */

import { type Kysely, sql } from "kysely";

/** A list of units is JSON text; null is every unit. */
const TOKENS = [
  `alter table token add column units text`,
  `update token set units = json_array(unit) where unit is not null`,
  `alter table token drop column unit`,
  `alter table token add column expires_at integer`,
  `alter table token add column revoked_at integer`,
];

const PEOPLE = [
  `create table account (
    id text not null primary key,
    username text not null unique,
    name text not null,
    role text not null,
    units text,
    password text not null,
    active integer not null check (active in (0, 1)),
    created_at integer not null
  ) strict, without rowid`,
  `create table session (
    hash text not null primary key,
    account text not null references account (id),
    created_at integer not null,
    used_at integer not null
  ) strict, without rowid`,
  `create index session_of_account on session (account)`,
];

const LOG = [
  `create table emergency (
    id text not null primary key,
    encounter text not null,
    caller text not null,
    name text not null,
    role text not null,
    reason text not null,
    granted_at integer not null,
    ends_at integer not null check (ends_at > granted_at)
  ) strict, without rowid`,
  `create index emergency_of_caller on emergency (encounter, caller, ends_at)`,
  `create table access (
    place integer primary key,
    at integer not null,
    encounter text,
    caller text not null,
    name text not null,
    role text not null,
    route text not null,
    status integer not null,
    emergency text
  ) strict`,
  `create index access_of_encounter on access (encounter, place) where encounter is not null`,
];

/** As for entries: the collision that REPLACE needs is refused itself, on every unique key. */
const GUARDS = [
  `create trigger access_only_added before insert on access
    when new.place is not (select coalesce(max(place), 0) + 1 from access)
    begin select raise(abort, 'an access is never replaced'); end`,
  `create trigger access_never_changed before update on access
    begin select raise(abort, 'an access is never changed'); end`,
  `create trigger access_never_deleted before delete on access
    begin select raise(abort, 'an access is never deleted'); end`,
  `create trigger emergency_only_added before insert on emergency
    when exists (select 1 from emergency where id = new.id)
    begin select raise(abort, 'an emergency access is never replaced'); end`,
  `create trigger emergency_never_changed before update on emergency
    begin select raise(abort, 'an emergency access is never changed'); end`,
  `create trigger emergency_never_deleted before delete on emergency
    begin select raise(abort, 'an emergency access is never deleted'); end`,
];

export async function up(database: Kysely<unknown>): Promise<void> {
  for (const statement of [...TOKENS, ...PEOPLE, ...LOG, ...GUARDS]) {
    await sql.raw(statement).execute(database);
  }
}
