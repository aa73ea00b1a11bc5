/** The log of accesses and the reasons of emergencies: only ever added to, whichever program holds the file. */

import SqliteDatabase from "better-sqlite3";
import { describe, expect, onTestFinished, test } from "vitest";
import type { Access, Emergency } from "../../src/store/callers.js";
import { ensureNewest, migrations } from "../../src/store/migrate.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { answer, minutes, write } from "./entries.js";
import { ledgerPath, openLedger } from "./ledger-file.js";

const emergency: Emergency = {
  id: "e-1",
  encounter: "a",
  caller: "t-1",
  name: "Somebody",
  role: "nurse",
  reason: "Called to an arrest.",
  grantedAt: minutes(10),
  endsAt: minutes(20),
};

const access: Access = {
  at: minutes(11),
  encounter: "a",
  caller: "t-1",
  name: "Somebody",
  role: "nurse",
  route: "GET /v1/encounters/{encounter}",
  status: 200,
  emergency: "e-1",
};

async function logged(path = ledgerPath()) {
  const store = await openLedger(path);
  await write(store, [
    { write: "emergency", emergency },
    { write: "access", access },
    { write: "access", access: { ...access, encounter: "b", emergency: null } },
    { write: "access", access: { ...access, emergency: null, status: 404 } },
  ]);
  return store;
}

test("accesses of an encounter come last first, before a place, with the reason", async () => {
  const store = await logged();
  const all = await answer(store, { ask: "accesses", encounter: "a", before: 99, limit: 9 });
  expect(all).toEqual([
    { ...access, emergency: null, status: 404, place: 3, reason: null },
    { ...access, place: 1, reason: "Called to an arrest." },
  ]);
  const before = await answer(store, { ask: "accesses", encounter: "a", before: 3, limit: 9 });
  expect(before).toEqual([all[1]]);
});

test("an emergency holds for its caller and encounter until it ends", async () => {
  const store = await logged();
  const holds = (given: object) =>
    answer(store, { ask: "emergency", encounter: "a", caller: "t-1", at: minutes(19), ...given });
  expect(await holds({})).toEqual(emergency);
  expect(await holds({ at: minutes(20) })).toBeUndefined();
  expect(await holds({ encounter: "b" })).toBeUndefined();
  expect(await holds({ caller: "t-2" })).toBeUndefined();
});

const row = (place: string) =>
  `values (${place}, 0, 'a', 'c', 'N', 'nurse', 'GET /', 200, null, null, null, null, null)`;
const reason = (id: string) => `values ('${id}', 'a', 'c', 'N', 'nurse', 'forged', 0, 1)`;

const attempts = {
  "REPLACE of an access": `insert or replace into access ${row("1")}`,
  "an UPSERT of an access": `insert into access ${row("1")} on conflict do update set status = 418`,
  "an access at no place": `insert into access ${row("null")}`,
  "an access after a gap": `insert into access ${row("9")}`,
  "an UPDATE of an access": "update access set caller = 'nobody'",
  "an UPDATE that would replace": "update or replace access set place = 1 where place = 2",
  "a DELETE of an access": "delete from access where place = 1",
  "REPLACE of a reason": `insert or replace into emergency ${reason("e-1")}`,
  "an UPSERT of a reason": `insert into emergency ${reason("e-1")} on conflict do update set reason = ''`,
  "an UPDATE of a reason": "update emergency set reason = ''",
  "a DELETE of a reason": "delete from emergency",
};

describe.each(["ON", "OFF"])("with recursive_triggers %s", (recursive) => {
  test.each(Object.entries(attempts))("%s is refused and changes nothing", async (_, statement) => {
    const path = ledgerPath();
    await logged(path);
    const other = new SqliteDatabase(path);
    onTestFinished(() => {
      other.close();
    });
    other.pragma(`recursive_triggers = ${recursive}`);
    const everything = () => [
      other.prepare("select * from access order by place").all(),
      other.prepare("select * from emergency").all(),
    ];
    const before = everything();
    expect(() => other.exec(statement)).toThrow(
      expect.objectContaining({ code: "SQLITE_CONSTRAINT_TRIGGER" }),
    );
    expect(everything()).toEqual(before);
    expect(before[0]).toHaveLength(3);
  });
});

test("sign-ins and changes of accounts come by themselves, last first, as they were noted", async () => {
  const store = await logged();
  const about = {
    account: "a-1",
    address: "192.0.2.1",
    change: [
      { of: "role", was: "nurse", is: "administrator" },
      { of: "units", was: ["icu"], is: null },
    ],
  } as const;
  const ofNoStay = { ...access, encounter: null, emergency: null };
  await write(store, [
    { write: "access", access: { ...ofNoStay, about } },
    { write: "access", access: { ...ofNoStay, about: { ...about, account: null, change: [] } } },
  ]);
  const all = await answer(store, { ask: "account-accesses", before: 99, limit: 9 });
  expect(all).toEqual([
    { ...ofNoStay, place: 5, about: { ...about, account: null, change: [] } },
    { ...ofNoStay, place: 4, about },
  ]);
  expect(await answer(store, { ask: "account-accesses", before: 5, limit: 9 })).toEqual([all[1]]);
});

test("lists come by the unit they were of, and by every unit's, and never those of before there were units", async () => {
  const store = await logged();
  const list = { ...access, encounter: null, emergency: null };
  for (const units of [["icu"], ["surgery", "icu"], null, ["surgery"], undefined, []]) {
    await write(store, [{ write: "access", access: { ...list, units } }]);
  }
  const places = async (unit: string, before = 99) =>
    (await answer(store, { ask: "unit-accesses", unit, before, limit: 9 })).map(({ place }) => place);
  expect(await places("icu")).toEqual([6, 5, 4]);
  expect(await places("surgery")).toEqual([7, 6, 5]);
  expect(await places("surgery", 7)).toEqual([6, 5]);
  expect(await places("elsewhere")).toEqual([6]);
});

test("whom a stay is of is taken out of the answers that were kept before", async () => {
  const path = ledgerPath();
  const handle = new SqliteDatabase(path);
  const earlier = Object.fromEntries(Object.entries(migrations).filter(([name]) => name < "0008"));
  await ensureNewest(handle, true, earlier);
  const body = '{"id":"a","unit":"icu","patient":{"identifier":"P-1"},"admittedAt":"x"}';
  const keep = (scope: string, text: string) =>
    handle.prepare("insert into kept_answer values (?, 'k', 'f', 201, ?, '{}', 60000)").run(scope, text);
  keep("nurse-1 POST /v1/encounters", body);
  keep("nurse-1 POST /v1/encounters/{encounter}/entries a", body);
  handle.close();
  const store = await openSqlite(path, { migrate: true });
  onTestFinished(() => store.close());
  const kept = async (scope: string) => (await answer(store, { ask: "kept-answer", scope, key: "k" }))?.body;
  expect(await kept("nurse-1 POST /v1/encounters")).toBe('{"id":"a","unit":"icu","admittedAt":"x"}');
  expect(await kept("nurse-1 POST /v1/encounters/{encounter}/entries a")).toBe(body);
});

test("tokens that were made before go on as they were", async () => {
  const path = ledgerPath();
  const handle = new SqliteDatabase(path);
  const earlier = Object.fromEntries(Object.entries(migrations).filter(([name]) => name < "0004"));
  await ensureNewest(handle, true, earlier);
  const columns = "id, hash, role, name, unit, created_at";
  handle.exec(`insert into token (${columns}) values ('1', 'aa', 'nurse', 'Tablet', 'icu', 60000)`);
  handle.exec(`insert into token (${columns}) values ('2', 'bb', 'device', 'Pumps', null, 60000)`);
  handle.close();
  const store = await openSqlite(path, { migrate: true });
  onTestFinished(() => store.close());
  const good = { createdAt: minutes(1), expiresAt: null, revokedAt: null };
  expect(await store.tokens()).toEqual([
    { id: "1", hash: "aa", role: "nurse", name: "Tablet", units: ["icu"], ...good },
    { id: "2", hash: "bb", role: "device", name: "Pumps", units: null, ...good },
  ]);
});
