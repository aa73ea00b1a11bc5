/**
 * Verification names what was changed behind the ledger's back: one flipped bit anywhere in a stored row
 * is found at that row, wherever the bit has moved it.
 */

import Database from "better-sqlite3";
import fc from "fast-check";
import { describe, expect, it, onTestFinished } from "vitest";
import { done, type Json, NURSE, Stay, WEST } from "./stay.js";
import { amend, at, change, drank, on, running, void_ } from "./telling.js";

const LONG = Number(process.env.LONG_PROPERTIES ?? 0);
const COLUMNS = [
  "sequence",
  "id",
  "kind",
  "at",
  "root",
  "declares",
  "recorded_at",
  "text",
  "digest",
] as const;

/**
 * Two units, two stays, and of the first a record with every kind of row: facts, corrections, a change of
 * settings, a finding somebody has seen, a chart that was kept, a signature, a move and the discharge.
 */
async function recorded(): Promise<Stay> {
  const stay = await Stay.begun();
  const other = {
    id: "stay-2",
    unit: "east",
    patient: { identifier: "P-2" },
    admittedAt: "2026-03-04T08:00:00Z",
  };
  await stay.ledger.admit(NURSE, other, null);
  await stay.post([...running(), change("09:30", 80, { id: "rate" })]);
  await stay.post([amend("rate", change("09:00", 90), { id: "amended" }), void_("amended")]);
  await stay.settle("east", { effectiveFrom: "2026-03-04T12:00:00-06:00", settings: { precision: 1 } });
  await stay.post([drank("10:00", 150), on("13:00", "flow-paused")]);
  await stay.post([drank("09:00", 200)], { encounter: "stay-2" });
  const figure = { row: { category: "oral" as const }, start: at("09:00"), end: at("11:00"), volume: 15 };
  done(await stay.ledger.keepChart(NURSE, "stay-1", { id: "sheet", figures: [figure] }, null));
  const [found] = (done(await stay.ledger.findings("stay-1", { state: "all" })) as Json).findings;
  done(await stay.ledger.acknowledge(NURSE, "stay-1", found.id, "Seen at the bedside.", null));
  const { toSign } = done(
    await stay.ledger.shift("stay-1", { shift: "2026-03-04/day", units: null }),
  ) as Json;
  const signed = { digest: toSign.digest, to: toSign.to, remark: "All in all right." };
  done(await stay.ledger.sign(NURSE, "stay-1", "2026-03-04/day", signed, null));
  done(await stay.ledger.openUnit(NURSE, WEST, null));
  const moved = { move: { unit: "west", at: "2026-03-04T13:45:00-06:00" } };
  done(await stay.ledger.changeEncounter(NURSE, "stay-1", moved));
  const discharged = { discharge: { at: "2026-03-04T13:55:00-06:00" } };
  done(await stay.ledger.changeEncounter(NURSE, "stay-1", discharged));
  return stay;
}

interface Place {
  readonly place: number;
  readonly chain: string;
  readonly sequence: number;
}

const places = (file: Database.Database): Place[] =>
  file
    .prepare(
      `select place, name as chain, sequence from entry join chain on chain.number = entry.chain
       order by name, sequence`,
    )
    .all() as Place[];

/** The file in the hands of somebody who has put its guards out of the way, beside the ledger that has it open. */
function unguarded(stay: Stay): Database.Database {
  const file = new Database(stay.path);
  onTestFinished(() => file.close() && undefined);
  const triggers = file.prepare("select name from sqlite_master where type = 'trigger'").pluck().all();
  for (const trigger of triggers) file.exec(`drop trigger ${trigger}`);
  file.pragma("ignore_check_constraints = ON");
  file.pragma("foreign_keys = OFF");
  return file;
}

/** Flips one bit of a column of a row and keeps its type; false where there is nothing, or the key it makes is taken. */
function flipped(file: Database.Database, column: string, place: number, bit: number): boolean {
  const value = file.prepare(`select ${column} from entry where place = ?`).pluck().get(place) as unknown;
  if (value === null) return false;
  const change = (to: unknown, as: string) =>
    file.prepare(`update or ignore entry set ${column} = ${as} where place = ?`).run(to, place).changes === 1;
  if (typeof value === "number") return change(value ^ (1 << (bit % 16)), "?");
  const bytes = Buffer.from(value as string);
  bytes[(bit >> 3) % bytes.length]! ^= 1 << (bit & 7);
  return change(bytes, "cast(? as text)");
}

describe("a record nobody touched", () => {
  it("is sound, and says how much it holds", async () => {
    const stay = await recorded();
    // East its opening and the settings, west its opening; stay-1 the admission, 5 facts, 2 corrections, the
    // settings, 2 facts and 5 of what is done about them; stay-2 its admission, the settings and a fact.
    const entries = 3 + 16 + 3;
    expect(stay.ledger.verify()).toEqual({ sound: true, encounters: 2, entries, unheld: 0 });
  });
});

describe("a flipped bit", () => {
  it("is found at its row, whatever kind of row it is", async () => {
    const stay = await recorded();
    const file = unguarded(stay);
    const rows = places(file);
    const run = fc.property(
      fc.constantFrom(...rows),
      fc.constantFrom(...COLUMNS),
      fc.nat({ max: 20_000 }),
      ({ place, chain, sequence }, column, bit) => {
        const before = file.prepare(`select ${column} from entry where place = ?`).pluck().get(place);
        if (!flipped(file, column, place, bit)) return;
        const verdict = stay.ledger.verify();
        file.prepare(`update entry set ${column} = ? where place = ?`).run(before, place);
        expect(verdict).toMatchObject({ sound: false, chain, sequence });
      },
    );
    fc.assert(run, { numRuns: LONG > 0 ? 5_000 * LONG : 600, seed: 7 });
    expect(stay.ledger.verify()).toMatchObject({ sound: true });
  });

  it("that hides a row from its chain is found, also of the last one", async () => {
    const stay = await recorded();
    const file = unguarded(stay);
    for (const { place, chain, sequence } of places(file)) {
      file.prepare("update entry set chain = chain + 64 where place = ?").run(place);
      expect(stay.ledger.verify(), `${place}`).toMatchObject({ sound: false, chain, sequence });
      file.prepare("update entry set chain = chain - 64 where place = ?").run(place);
    }
  });

  it("that puts a row in another chain is found at that row", async () => {
    const stay = await recorded();
    const file = unguarded(stay);
    const of = file.prepare("select number from chain where name = ?").pluck();
    const other = of.get("encounter/stay-2");
    for (const { place, chain, sequence } of places(file).filter((row) => row.chain === "encounter/stay-1")) {
      file.prepare("update or ignore entry set chain = ? where place = ?").run(other, place);
      const moved = file.prepare("select 1 from entry where place = ? and chain = ?").get(place, other);
      if (moved !== undefined) {
        expect(stay.ledger.verify(), `${place}`).toMatchObject({ sound: false, chain, sequence });
      }
      file.prepare("update entry set chain = ? where place = ?").run(of.get(chain), place);
    }
  });

  it("in the name of a chain is found at its first row", async () => {
    const stay = await recorded();
    const file = unguarded(stay);
    file.exec("update chain set name = 'encounter/stay-9' where name = 'encounter/stay-2'");
    expect(stay.ledger.verify()).toMatchObject({ sound: false, chain: "encounter/stay-2", sequence: 1 });
  });
});

describe("a tail that was cut off", () => {
  it("leaves a sound record, and is noticed by who kept the digest of its head", async () => {
    const stay = await recorded();
    const { body } = await stay.post([drank("13:30", 50)]);
    const { digest } = body.ledger;
    expect(stay.ledger.verify(digest)).toMatchObject({ sound: true });
    unguarded(stay).exec("delete from entry where place = (select max(place) from entry)");
    expect(stay.ledger.verify()).toMatchObject({ sound: true });
    expect(stay.ledger.verify(digest)).toMatchObject({ sound: false });
  });

  it("is noticed when the row in the middle is the one that is gone", async () => {
    const stay = await recorded();
    const file = unguarded(stay);
    const sequence = file.prepare("select sequence from entry where id = 'rate'").pluck().get();
    file.exec("delete from entry where id = 'rate'");
    expect(stay.ledger.verify()).toMatchObject({ sound: false, chain: "encounter/stay-1", sequence });
  });
});
