/** Signed shifts against this version of the calculation, at the command line. */

import { expect, it } from "vitest";
import { seed } from "../../src/demo/seed.js";
import { type Caller, Ledger } from "../../src/ledger/ledger.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { type Instant, parseInstant } from "../../src/time/instant.js";
import { done, type Json } from "../ledger/stay.js";
import { call, newDatabase } from "./program.js";
import { tamper } from "./tampering.js";

const NOW = parseInstant("2026-03-04T10:00:00-06:00") as Instant;
const NURSE: Caller = { id: "n", name: "N", role: "nurse", source: "person", units: null };
const NIGHT = "2026-03-03/night";

/** The demo with one night signed, and something of that night charted afterwards. */
async function signedNight(): Promise<string> {
  const { database } = await newDatabase();
  const store = await openSqlite(database, { migrate: true });
  await seed(store, NOW);
  const ledger = new Ledger(store, () => NOW);
  const { toSign } = done(await ledger.shift("demo-a", { shift: NIGHT, units: null })) as Json;
  const body = { digest: toSign.digest, remark: "Looked at." };
  done(await ledger.sign(NURSE, "demo-a", NIGHT, body, null));
  const entry = {
    kind: "intake-measured" as const,
    at: "2026-03-04T02:30:00-06:00",
    category: "oral" as const,
    volume: 120,
  };
  const recording = {
    posted: [{ sent: entry, entry }],
    ifMatch: null,
    dryRun: false,
    queued: false,
    reads: true,
  };
  done(await ledger.record(NURSE, "demo-a", recording, null));
  await store.close();
  return database;
}

it("names none where this version makes the figures as they were signed, whatever was charted since", async () => {
  const database = await signedNight();
  expect(await call(["signatures"], { DATABASE_URL: `file:${database}` })).toEqual({
    code: 0,
    stdout: "compared 1 signatures, 0 differ",
    stderr: "",
  });
});

it("names a shift whose figures another version made otherwise, with that version", async () => {
  const database = await signedNight();
  // As if an earlier version had come to other figures; the digest is another, so that nothing remembered is used.
  tamper(database, (handle) =>
    handle
      .prepare(
        `update entry set digest = ?, text = replace(replace(text, '"calculation":"1"', '"calculation":"0"'),
          '"of":"net","values":[', '"of":"net","values":[1000.5,') where kind = 'shift-signed'`,
      )
      .run("f".repeat(64)),
  );
  const { code, stdout } = await call(["signatures"], { DATABASE_URL: `file:${database}` });
  const [first, last] = stdout.split("\n");
  expect(code).toBe(0);
  expect(first).toMatch(
    /^demo-a 2026-03-03\/night from 2026-03-03T19:00:00-06:00 to 2026-03-04T07:00:00-06:00, signed with calculation 0: \d+ figures differ$/,
  );
  expect(last).toBe("compared 1 signatures, 1 differ");
});
