/** The service at the command line: what it refuses to start on, and how it stops. */

import { once } from "node:events";
import { type AddressInfo, createServer } from "node:net";
import { describe, expect, it } from "vitest";
import { verify } from "../../src/ledger/verify.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { call, start } from "./program.js";
import { past } from "./tampering.js";
import { ask, closedToNew, drink, halfSent, openWard, wardDatabase } from "./ward.js";

/** The ids of one encounter's entries in a database whose service has stopped. */
async function recordedIn(database: string): Promise<Set<string>> {
  const store = await openSqlite(database, { migrate: false });
  try {
    expect(verify(store.everyRow())).toMatchObject({ sound: true });
    const rows = [...store.everyRow()].filter(({ chain }) => chain === "encounter/demo-a");
    return new Set(rows.map(({ id }) => id));
  } finally {
    await store.close();
  }
}

describe("the service does not start", () => {
  it("on a database that is newer than the program", async () => {
    const { database } = await wardDatabase();
    past(database, (handle) =>
      handle.exec("insert into kysely_migration values ('9999-later', '2030-01-01T00:00:00Z')"),
    );
    const { ended, written } = start(["serve"], { DATABASE_URL: `file:${database}`, PORT: "0" });
    expect(await ended).toBe(1);
    expect(written.stdout).toBe("");
    expect(written.stderr).toBe(
      `${database} cannot be opened as a ledger: it is newer than this program, which does not know the migration 9999-later\n`,
    );
  });

  it("on a database that is half-migrated", async () => {
    const { database } = await wardDatabase();
    past(database, (handle) => handle.exec("drop index entry_by_time"));
    const { code, stderr } = await call(["serve"], { DATABASE_URL: `file:${database}`, PORT: "0" });
    expect(code).toBe(1);
    expect(stderr).toContain("half-migrated or altered: it lacks index entry_by_time");
  });

  it("on a port that another program has", async () => {
    const { database } = await wardDatabase();
    const other = createServer().listen(0, "127.0.0.1");
    await once(other, "listening");
    const { port } = other.address() as AddressInfo;
    const { ended, written } = start(["serve"], { DATABASE_URL: `file:${database}`, PORT: `${port}` });
    expect(await ended).toBe(1);
    other.close();
    expect(written.stderr).toBe(
      `cannot listen on 127.0.0.1 port ${port}: another program listens there; choose another PORT\n`,
    );
  });

  it("in an environment with faults, and names them all", async () => {
    const environment = { PORT: "http", LOG_LEVEL: "loud", DATABASE_URL: "postgres://ward@db/ledger" };
    const { code, stdout, stderr } = await call(["serve"], environment);
    expect([code, stdout]).toEqual([2, ""]);
    const named = stderr.trimEnd().split("\n");
    expect(named.map((line) => line.split(" ")[0])).toEqual(["PORT", "DATABASE_URL", "LOG_LEVEL"]);
  });
});

describe("the service stops", () => {
  it("after it has finished what it had begun to read, and takes the echo of a signal for one", async () => {
    const ward = await openWard();
    const begun = await halfSent(ward, [drink("in-flight")]);
    ward.child.kill("SIGINT");
    ward.child.kill("SIGTERM");
    await closedToNew(ward);
    expect((await begun.finish()).statusCode).toBe(201);
    expect(await ward.ended).toBe(0);
    expect(ward.written.stderr).toBe("");
    expect(await recordedIn(ward.database)).toContain("in-flight");
  });

  it("with all that it acknowledged in the database, in the middle of a rush", async () => {
    const ward = await openWard();
    const ids = Array.from({ length: 60 }, (_, i) => `rush-${i}`);
    let first = () => {};
    const firstAnswered = new Promise<void>((resolve) => {
      first = resolve;
    });
    const answers = ids.map(async (id) => {
      const body = JSON.stringify({ entries: [drink(id)] });
      const { status } = await ask(ward, "/v1/encounters/demo-a/entries", body);
      first();
      return status === 201 ? id : undefined;
    });
    await firstAnswered;
    ward.child.kill("SIGTERM");
    const asked = performance.now();
    const settled = await Promise.allSettled(answers);
    const acknowledged = settled.flatMap((one) => (one.status === "fulfilled" ? (one.value ?? []) : []));
    expect(await ward.ended).toBe(0);
    // The connections that the callers keep open for later do not hold it up.
    expect(performance.now() - asked).toBeLessThan(5_000);
    expect(acknowledged.length).toBeGreaterThan(0);
    const recorded = await recordedIn(ward.database);
    expect(acknowledged.filter((id) => !recorded.has(id))).toEqual([]);
  });

  it("at once at a second signal", async () => {
    const ward = await openWard();
    const begun = await halfSent(ward, [drink("never-finished")]);
    ward.child.kill("SIGTERM");
    await closedToNew(ward);
    const asked = performance.now();
    const again = setInterval(() => ward.child.kill("SIGTERM"), 50);
    // 128 and the number of SIGTERM, 15.
    expect(await ward.ended).toBe(143);
    clearInterval(again);
    // Long before the ten seconds that a request in flight is given.
    expect(performance.now() - asked).toBeLessThan(5_000);
    await expect(begun.finish()).rejects.toThrow();
    expect(await recordedIn(ward.database)).not.toContain("never-finished");
  });
});
