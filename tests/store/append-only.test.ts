/** Entries are only ever added, whichever program holds the file and however it is set. */

import SqliteDatabase from "better-sqlite3";
import { describe, expect, onTestFinished, test } from "vitest";
import { ensureNewest, migrations } from "../../src/store/migrate.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { BED_4, entry, rows, write } from "./entries.js";
import { ledgerPath, openLedger } from "./ledger-file.js";

/** A ledger of two entries in one stay, held by another program with or without delete triggers for REPLACE. */
async function heldByAnother(recursiveTriggers: "ON" | "OFF") {
  const path = ledgerPath();
  const store = await openLedger(path);
  await write(store, rows(entry(BED_4, 1), entry(BED_4, 2)));
  const other = new SqliteDatabase(path);
  onTestFinished(() => {
    other.close();
  });
  other.pragma(`recursive_triggers = ${recursiveTriggers}`);
  return other;
}

const columns = "place, chain, sequence, id, kind, at, recorded_at, text, digest";
const values = (place: string, sequence: number, id: string) =>
  `values (${place}, 1, ${sequence}, '${id}', 'total-read', 0, 180000, 'forged', '${"f".repeat(64)}')`;

const attempts = {
  "REPLACE at a taken sequence": `insert or replace into entry (${columns}) ${values("3", 2, "entry-3")}`,
  "REPLACE under a taken id": `insert or replace into entry (${columns}) ${values("3", 3, "entry-2")}`,
  "REPLACE at a taken place": `insert or replace into entry (${columns}) ${values("2", 3, "entry-3")}`,
  "REPLACE of the first place": `replace into entry (${columns}) ${values("1", 3, "entry-3")}`,
  "an UPSERT at a taken sequence": `insert into entry (${columns}) ${values("3", 2, "entry-3")}
    on conflict (chain, sequence) do update set text = excluded.text`,
  "an UPSERT under a taken id": `insert into entry (${columns}) ${values("3", 3, "entry-2")}
    on conflict (chain, id) do update set text = excluded.text`,
  "an UPSERT at a taken place": `insert into entry (${columns}) ${values("2", 3, "entry-3")}
    on conflict (place) do update set text = excluded.text`,
  "an UPDATE of the text": "update entry set text = 'forged' where sequence = 2",
  "an UPDATE of the chain": "update entry set chain = 2",
  "an UPDATE that would replace": "update or replace entry set sequence = 1 where sequence = 2",
  "a DELETE": "delete from entry where sequence = 2",
  "a DELETE of everything": "delete from entry",
  "an entry after a gap": `insert into entry (${columns}) ${values("3", 4, "entry-4")}`,
  "an entry at no given place": `insert into entry (${columns}) ${values("null", 3, "entry-3")}`,
  "REPLACE of the chain's name": "replace into chain (number, name) values (2, 'encounter/bed-4')",
  "REPLACE of the chain's number": "replace into chain (number, name) values (1, 'encounter/bed-9')",
  "an UPDATE of the chain's name": "update chain set name = 'encounter/bed-9'",
  "a DELETE of the chain": "delete from chain",
};

for (const recursiveTriggers of ["ON", "OFF"] as const) {
  describe(`with recursive_triggers ${recursiveTriggers}`, () => {
    test.each(Object.entries(attempts))("%s is refused and changes nothing", async (_attempt, statement) => {
      const other = await heldByAnother(recursiveTriggers);
      const everything = "select * from entry join chain on number = chain order by place";
      const before = other.prepare(everything).all();
      expect(() => other.exec(statement)).toThrow(
        expect.objectContaining({ code: "SQLITE_CONSTRAINT_TRIGGER" }),
      );
      expect(other.prepare(everything).all()).toEqual(before);
      expect(before).toHaveLength(2);
    });
  });
}

test("an honest entry at the next place and sequence is taken", async () => {
  const other = await heldByAnother("OFF");
  other.exec(`insert into entry (${columns}) ${values("3", 3, "entry-3")}`);
  expect(other.prepare("select max(sequence) as sequence from entry").get()).toEqual({ sequence: 3 });
});

test("an entry recorded before the one it follows is refused", async () => {
  const other = await heldByAnother("OFF");
  const early = values("3", 3, "entry-3").replace("180000", "119999");
  expect(() => other.exec(`insert into entry (${columns}) ${early}`)).toThrow(/no earlier/);
});

test("a correction hangs on an original of its chain, not on another correction", async () => {
  const store = await openLedger();
  await write(store, rows(entry(BED_4, 1), entry(BED_4, 2, { root: 1 })));
  await expect(write(store, rows(entry(BED_4, 3, { root: 2 })))).rejects.toThrow(/hangs on an original/);
  await expect(write(store, rows(entry("encounter/bed-5", 1, { root: 0 })))).rejects.toThrow(
    /hangs on an original/,
  );
});

test("a time that is no whole millisecond is refused", async () => {
  const store = await openLedger();
  await expect(write(store, rows(entry(BED_4, 1, { at: 0.5 as never })))).rejects.toThrow(
    expect.objectContaining({ code: "SQLITE_CONSTRAINT_DATATYPE" }),
  );
});

test("entries from before their table had another key are there to the letter, and followed", async () => {
  const path = ledgerPath();
  const before = new SqliteDatabase(path);
  const earlier = Object.fromEntries(Object.entries(migrations).filter(([name]) => name < "0006"));
  await ensureNewest(before, true, earlier);
  const told = [entry(BED_4, 1), entry(BED_4, 2, { root: 1 })];
  before.exec(`insert into chain (number, name) values (1, '${BED_4}')`);
  for (const row of told) {
    before
      .prepare(`insert into entry (${columns}, root) values (@sequence, 1, @sequence, @id, @kind, @at,
        @recordedAt, @text, @digest, @root)`)
      .run(row);
  }
  before.close();
  const store = await openSqlite(path, { migrate: true });
  onTestFinished(() => store.close());
  expect([...store.everyRow()]).toEqual(told);
  await write(store, rows(entry(BED_4, 3)));
  expect([...store.everyRow()]).toHaveLength(3);
});
