/** The demo at the command line: what it fills, what it will not touch, and what it tells to open. */

import { describe, expect, it } from "vitest";
import { hashOf } from "../../src/access/token.js";
import { demo } from "../../src/commands/demo.js";
import { CommandRefused } from "../../src/commands/refused.js";
import type { Config } from "../../src/config.js";
import { type Caller, Ledger } from "../../src/ledger/ledger.js";
import { openSqlite } from "../../src/store/sqlite.js";
import type { Store } from "../../src/store/store.js";
import { type Instant, parseInstant } from "../../src/time/instant.js";
import { call, lines, newDatabase, start } from "./program.js";

const MORNING = parseInstant("2025-03-05T10:00:00-06:00") as Instant;
const EARLIER = parseInstant("2025-02-05T10:00:00-06:00") as Instant;

async function filled(config: Config, at?: Instant): Promise<string[]> {
  const { printed, print } = lines();
  await demo(config, { at, fillOnly: true }, print);
  return printed;
}

async function inside<T>({ database }: Config, look: (store: Store) => Promise<T>): Promise<T> {
  const store = await openSqlite(database, { migrate: false });
  try {
    return await look(store);
  } finally {
    await store.close();
  }
}

const digestsIn = (config: Config) =>
  inside(config, async (store) => [...store.everyRow()].map(({ digest }) => digest));

/** The tokens a demo printed, by their roles. */
function tokensIn(printed: readonly string[]): Map<string, string> {
  const tokens = new Map<string, string>();
  for (const line of printed) {
    const [, role, token] = /^ {2}(\S+) +(infledger_\S+)$/.exec(line) ?? [];
    if (role !== undefined && token !== undefined) tokens.set(role, token);
  }
  return tokens;
}

describe("an empty database", () => {
  it("is filled up to the instant given, and said to be invented", async () => {
    const config = await newDatabase();
    const printed = await filled(config, MORNING);
    expect(printed[0]).toContain("no patient, nurse or device in this demo is real");
    expect(printed[1]).toBe(`Three shifts in ${config.database}, told up to 2025-03-05T10:00:00-06:00.`);
    const last = await inside(config, async (store) =>
      Math.max(...[...store.everyRow()].map(({ recordedAt }) => recordedAt)),
    );
    expect(last).toBeLessThanOrEqual(MORNING);
    expect(last).toBeGreaterThan(MORNING - 3 * 3_600_000);
  });

  it("gets a token for each role, that lets its role in", async () => {
    const config = await newDatabase();
    const tokens = tokensIn(await filled(config, MORNING));
    const roles = ["nurse", "charge-nurse", "integration", "device", "administrator"];
    expect([...tokens.keys()]).toEqual(roles);
    for (const role of roles) {
      const known = await inside(config, (store) => store.tokenByHash(hashOf(tokens.get(role) ?? "")));
      expect(known).toMatchObject({ role, units: null });
    }
  });

  it("may be one in which tokens were made already", async () => {
    const config = await newDatabase();
    const { code } = await call(["token", "create", "--role", "nurse", "--name", "First"], {
      DATABASE_URL: `file:${config.database}`,
    });
    expect(code).toBe(0);
    await filled(config, MORNING);
    expect((await digestsIn(config)).length).toBeGreaterThan(250);
  });
});

describe("a database that holds the demo", () => {
  it("is left as it is, with new tokens, and said from when it is", async () => {
    const config = await newDatabase();
    const first = await filled(config, MORNING);
    const digests = await digestsIn(config);
    const second = await filled(config);
    expect(await digestsIn(config)).toEqual(digests);
    expect(second[1]).toMatch(/told up to 2025-03-05T0\d:\d\d:00-06:00\.$/);
    expect(tokensIn(second).get("nurse")).not.toBe(tokensIn(first).get("nurse"));
  });

  it("is not told again up to another instant", async () => {
    const config = await newDatabase();
    await filled(config, MORNING);
    const digests = await digestsIn(config);
    await expect(filled(config, EARLIER)).rejects.toThrow(/--at is for an empty database/);
    expect(await digestsIn(config)).toEqual(digests);
  });
});

describe("a database that holds something else", () => {
  it("is left alone", async () => {
    const config = await newDatabase();
    const caller: Caller = { id: "a", name: "A", role: "administrator", source: "person", units: null };
    const store = await openSqlite(config.database, { migrate: true });
    const shifts = [{ name: "all", starts: "07:00" }];
    const unit = { id: "east-4", name: "East 4", zone: "America/Chicago", shifts };
    await new Ledger(store, Date.now).openUnit(caller, unit, null);
    await store.close();
    const digests = await digestsIn(config);
    await expect(filled(config, MORNING)).rejects.toThrow(CommandRefused);
    await expect(filled(config, MORNING)).rejects.toThrow(/something other than the demo/);
    expect(await digestsIn(config)).toEqual(digests);
    expect(await inside(config, (ledger) => ledger.tokens())).toEqual([]);
  });
});

describe("the story", () => {
  it("is not told of the future", async () => {
    const config = await newDatabase();
    const tomorrow = (Date.now() + 86_400_000) as Instant;
    await expect(filled(config, tomorrow)).rejects.toThrow(/lies in the future/);
  });

  it("needs an instant with an offset", async () => {
    const { database } = await newDatabase();
    const { code, stderr } = await call(["demo", "--fill-only", "--at", "2025-03-05T10:00:00"], {
      DATABASE_URL: `file:${database}`,
    });
    expect(code).toBe(2);
    expect(stderr).toContain("RFC 3339 with an offset");
  });
});

describe("the service of the demo", () => {
  it("answers the call it prints, and stops when asked", async () => {
    const { database } = await newDatabase();
    const served = start(["demo"], { DATABASE_URL: `file:${database}`, PORT: "0" });
    const token = await served.wrote(/curl -H 'Authorization: Bearer (\S+)'/);
    const url = await served.wrote(/Bearer \S+' '(\S+)'/);
    const answer = await fetch(url, { headers: { authorization: `Bearer ${token}` } });
    expect(answer.status).toBe(200);
    const { intervals, rows } = (await answer.json()) as { intervals: unknown[]; rows: unknown[] };
    // A whole shift: 12 hours, and 11 or 13 in the two nights a year on which the clocks change.
    expect(intervals.length).toBeGreaterThanOrEqual(11);
    expect(rows.length).toBeGreaterThan(0);
    await served.wrote(/(administrator +infledger_)/);
    served.child.kill("SIGTERM");
    expect(await served.ended).toBe(0);
    expect(served.written.stderr).toBe("");
  });
});
