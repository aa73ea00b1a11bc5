/** Whom a stay is of stands in one table of the database, whatever is asked, and a retry is told it from there. */

import SqliteDatabase from "better-sqlite3";
import { expect, it, onTestFinished } from "vitest";
import { SALINE, STAY, Ward } from "../rest/ward.js";
import { ledgerPath } from "../store/ledger-file.js";

/** The tables in which one of some words stands anywhere. */
async function tablesWith(ward: Ward, words: readonly string[]): Promise<string[]> {
  const path = ledgerPath();
  await ward.store.backup(path);
  const file = new SqliteDatabase(path, { readonly: true });
  onTestFinished(() => {
    file.close();
  });
  const tables = file
    .prepare("select name from sqlite_schema where type = 'table'")
    .pluck()
    .all() as string[];
  return tables.filter((table) => {
    const text = JSON.stringify(file.prepare(`select * from "${table}"`).all());
    return words.some((word) => text.includes(word));
  });
}

const patient = { identifier: "P-30999", name: "Invented Somebody" };

it("the directory, also where an answer is kept for a retry", async () => {
  const ward = await Ward.open();
  const body = { ...STAY, id: "stay-3", patient };
  const asking = { body, headers: { "idempotency-key": "admission" } };
  const first = await ward.ask("POST", "/v1/encounters", asking);
  const path = "/v1/encounters/stay-3";
  await ward.done("POST", `${path}/entries`, {
    body: { entries: SALINE },
    headers: { "idempotency-key": "saline" },
  });
  const reason = "Called to a cardiac arrest.";
  await ward.done("POST", `${path}/emergency-access`, { as: "nurse@west", body: { reason } });
  await ward.done("GET", `${path}/export`, { as: "charge-nurse" });
  await ward.done("GET", `${path}/accesses`, { as: "charge-nurse" });
  expect(await tablesWith(ward, Object.values(patient))).toEqual(["stay"]);
  // To the letter, though it was not kept to the letter, and though the patient lies in another bed now.
  await ward.done("PATCH", path, { body: { bed: "15" } });
  const again = await ward.ask("POST", "/v1/encounters", asking);
  expect([again.status, again.text, again.headers.location]).toEqual([
    201,
    first.text,
    "/v1/encounters/stay-3",
  ]);
  expect(again.body.patient).toEqual(patient);
});
