/** Verification, and what it says of a database that somebody has changed. */

import { describe, expect, it } from "vitest";
import { verifyDatabase } from "../../src/commands/verify.js";
import type { Config } from "../../src/config.js";
import { scenario } from "../../src/demo/scenario.js";
import { seed } from "../../src/demo/seed.js";
import { recordedFrom, rowOf } from "../../src/ledger/record.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { type Instant, parseInstant } from "../../src/time/instant.js";
import type { AdmittedText } from "../../src/wire/stored.js";
import { call, lines, newDatabase, start } from "./program.js";
import { cutTail, flipByte, past, tamper } from "./tampering.js";

const NOW = parseInstant("2026-03-04T10:00:00-06:00") as Instant;

async function demoDatabase(): Promise<Config> {
  const config = await newDatabase();
  const store = await openSqlite(config.database, { migrate: true });
  await seed(store, NOW);
  await store.close();
  return config;
}

async function verified(config: Config, head?: string) {
  const { printed, print } = lines();
  return { sound: await verifyDatabase(config, head, print), printed };
}

describe("a database as it was recorded", () => {
  it("is verified, and its encounters and entries counted", async () => {
    const { encounters } = scenario(NOW);
    const posted = encounters.flatMap(({ posts }) => posts.flatMap(({ entries }) => entries)).length;
    // Beside them: the unit's opening, nine admissions, one discharge and a chart that was kept.
    expect(encounters).toHaveLength(9);
    expect(await verified(await demoDatabase())).toEqual({
      sound: true,
      printed: [`verified 9 encounters, ${posted + 12} entries`],
    });
  });

  it("still has a digest that it gave out", async () => {
    const config = await demoDatabase();
    const digest = past(config.database, (handle) =>
      handle.prepare<[], string>("select digest from entry where sequence = 5 limit 1").pluck().get(),
    );
    expect(await verified(config, digest)).toMatchObject({ sound: true });
  });
});

describe("a database that somebody changed", () => {
  it("is named with the encounter and entry at which a byte was flipped", async () => {
    const config = await demoDatabase();
    flipByte(config.database, "encounter/demo-c", 7);
    expect(await verified(config)).toEqual({
      sound: false,
      printed: ["broken at encounter demo-c, entry 7: its text is not the one its digest was made of"],
    });
  });

  it("is named at the first of several broken links", async () => {
    const config = await demoDatabase();
    flipByte(config.database, "encounter/demo-e", 2);
    flipByte(config.database, "encounter/demo-b", 9);
    const { printed } = await verified(config);
    expect(printed).toEqual([expect.stringMatching(/^broken at encounter demo-b, entry 9: /)]);
  });

  it("is noticed by the digest of a tail that was cut off, and only by it", async () => {
    const config = await demoDatabase();
    const digest = cutTail(config.database, "encounter/demo-a");
    expect(await verified(config)).toMatchObject({ sound: true });
    expect(await verified(config, digest)).toEqual({
      sound: false,
      printed: [`broken: no entry has the digest ${digest}: the end of a chain is missing`],
    });
  });

  it.each<[string, string, string, string]>([
    [
      "another patient",
      "patient_identifier = 'DEMO-B'",
      "demo-a",
      "entry 1: the directory has another patient than it",
    ],
    [
      "another name",
      "patient_name = 'Demo Patient B'",
      "demo-a",
      "entry 1: the directory has another patient than it",
    ],
    ["no salt", "patient_salt = null", "demo-a", "entry 1: the directory has another patient than it"],
    [
      "another admission",
      "admitted_at = admitted_at - 3600000",
      "demo-a",
      "entry 1: the directory has another time of admission than it",
    ],
    ["another unit", "unit = 'elsewhere'", "demo-a", "entry 1: the directory has another unit than it"],
    ["no discharge", "discharged_at = null", "demo-h", "the directory has another end of the stay than it"],
    [
      "a discharge",
      "discharged_at = admitted_at + 1",
      "demo-a",
      "the directory has another end of the stay than it",
    ],
  ])("is named where its directory has %s", async (_, set, encounter, why) => {
    const config = await demoDatabase();
    tamper(config.database, (handle) => {
      const { changes } = handle.prepare(`update stay set ${set} where encounter = ?`).run(encounter);
      expect(changes).toBe(1);
    });
    const { sound, printed } = await verified(config);
    expect([sound, printed]).toEqual([
      false,
      [expect.stringContaining(`broken at encounter ${encounter}, `)],
    ]);
    expect(printed[0]).toContain(why);
  });

  it("is named where a stay is gone from its directory, or a whole chain from beside it", async () => {
    const without = await demoDatabase();
    tamper(without.database, (handle) => handle.exec("delete from stay where encounter = 'demo-c'"));
    expect(await verified(without)).toEqual({
      sound: false,
      printed: ["broken at encounter demo-c, entry 1: the directory does not have the stay"],
    });
    const config = await demoDatabase();
    tamper(config.database, (handle) =>
      handle.exec(
        "delete from entry where chain = (select number from chain where name = 'encounter/demo-c')",
      ),
    );
    expect(await verified(config)).toEqual({
      sound: false,
      printed: [
        "broken at encounter demo-c, entry 1: the directory has the stay, of which no entry is there",
      ],
    });
  });

  it("is not even opened when its guards are gone", async () => {
    const config = await demoDatabase();
    past(config.database, (handle) => handle.exec("drop trigger entry_never_changed"));
    await expect(verified(config)).rejects.toThrow(/lacks trigger entry_never_changed/);
  });

  it("ends the program with 1, and a sound one with 0", async () => {
    const { database } = await demoDatabase();
    const environment = { DATABASE_URL: `file:${database}` };
    const sound = await call(["verify"], environment);
    expect([sound.code, sound.stderr]).toEqual([0, ""]);
    expect(sound.stdout.trimEnd().split("\n").at(-1)).toMatch(/^verified 9 encounters, \d+ entries$/);
    flipByte(database, "encounter/demo-c", 7);
    const { ended, written } = start(["verify"], environment);
    expect(await ended).toBe(1);
    expect(written.stdout).toMatch(/^broken at encounter demo-c, entry 7: /);
  });
});

describe("an admission that an earlier release recorded", () => {
  it("has no digest of the patient, and is verified for all else", async () => {
    const config = await demoDatabase();
    const store = await openSqlite(config.database, { migrate: false });
    const [admitted] = [...store.everyRow()].filter(({ chain }) => chain === "encounter/demo-a");
    const recorded = recordedFrom(admitted!.text);
    const { patient, ...body } = recorded.body as AdmittedText;
    expect(patient).toMatch(/^[0-9a-f]{64}$/);
    const chain = "encounter/earlier" as const;
    const row = rowOf({ ...recorded, chain, id: "earlier", body }, { at: admitted!.at, declares: null });
    const [stay] = store.whole((_, stays) => stays.filter(({ encounter }) => encounter === "demo-a"));
    await store.transact(function* () {
      yield* [];
      const earlier = { ...stay!, encounter: "earlier", patientSalt: null };
      return {
        writes: [
          { write: "row", row },
          { write: "stay", stay: earlier },
        ],
        answer: undefined,
      };
    });
    await store.close();
    const { sound, printed } = await verified(config);
    expect([sound, printed]).toEqual([
      true,
      [
        "not held to the chain: the patient of 1 encounters, admitted by an earlier release",
        expect.stringMatching(/^verified 10 encounters, /),
      ],
    ]);
    tamper(config.database, (handle) =>
      handle.exec("update stay set patient_salt = 'made up' where encounter = 'earlier'"),
    );
    expect((await verified(config)).sound).toBe(false);
  });
});

describe("a database that is not there", () => {
  it("is refused and not made", async () => {
    const config = await newDatabase();
    await expect(verified(config)).rejects.toThrow(/there is no file there/);
    await expect(verified(config)).rejects.toThrow(/there is no file there/);
  });
});
