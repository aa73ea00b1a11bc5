/** One encounter in a file of its own: what it holds, what can be done with it alone, and what is refused. */

import { readFile, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { exportEncounter } from "../../src/commands/export.js";
import { verifyBundleFile } from "../../src/commands/verify.js";
import type { Config } from "../../src/config.js";
import { seed } from "../../src/demo/seed.js";
import { rowsOf } from "../../src/ledger/bundle.js";
import { Ledger } from "../../src/ledger/ledger.js";
import { openSqlite } from "../../src/store/sqlite.js";
import type { Row, Store } from "../../src/store/store.js";
import { type Instant, instant, parseInstant } from "../../src/time/instant.js";
import type { Json } from "../ledger/stay.js";
import { call, folder, lines, newDatabase } from "./program.js";

const NOW = parseInstant("2026-03-04T10:00:00-06:00") as Instant;
const CHAIN = "encounter/demo-a";

async function opened(config: Config): Promise<Store> {
  return openSqlite(config.database, { migrate: true });
}

async function demoDatabase(): Promise<Config> {
  const config = await newDatabase();
  const store = await opened(config);
  await seed(store, NOW);
  await store.close();
  return config;
}

/** The demo's first patient in a file, and that file as it reads. */
async function exported(): Promise<{ config: Config; file: string; bundle: Json }> {
  const config = await demoDatabase();
  const file = join(await folder(), "demo-a.json");
  await exportEncounter(config, "demo-a", file, () => {});
  return { config, file, bundle: JSON.parse(await readFile(file, "utf8")) };
}

async function verified(file: string, head?: string) {
  const { printed, print } = lines();
  return [await verifyBundleFile(file, head, print), ...printed];
}

/** The bundle in a new file, after something was done to it. */
async function changed(bundle: Json, change: (bundle: Json) => void): Promise<string> {
  const copy = structuredClone(bundle);
  change(copy);
  const file = join(await folder(), "changed.json");
  await writeFile(file, JSON.stringify(copy));
  return file;
}

describe("an exported encounter", () => {
  it("is verified as the database is, also by a digest given out once, and also when it was laid out anew", async () => {
    const { file, bundle } = await exported();
    const { length } = bundle.entries;
    expect(length).toBeGreaterThan(20);
    const sound = [true, `verified 1 encounters, ${length} entries`];
    expect(await verified(file)).toEqual(sound);
    expect(await verified(file, bundle.entries[4].digest)).toEqual(sound);
    const pretty = join(await folder(), "pretty.json");
    await writeFile(pretty, JSON.stringify(bundle, null, 2));
    expect(await verified(pretty)).toEqual(sound);
    expect((await verified(file, "0".repeat(64)))[0]).toBe(false);
  });

  it("holds whom it is of, and is for its owner's eyes", async () => {
    const { file, bundle } = await exported();
    expect(bundle.encounter).toMatchObject({ id: "demo-a", patient: { identifier: expect.any(String) } });
    expect(bundle.caution).toContain("local policy");
    expect((await stat(file)).mode & 0o777).toBe(0o600);
  });

  it("is all it takes to compute its figures again", async () => {
    const { config, bundle } = await exported();
    const alone = await opened(await newDatabase());
    const rows = [...rowsOf(CHAIN, bundle.entries)];
    await alone.transact(function* () {
      yield* [];
      return { writes: rows.map((row: Row) => ({ write: "row" as const, row })), answer: undefined };
    });
    const original = await opened(config);
    const whole = {
      period: { from: instant(NOW - 72 * 3_600_000), to: NOW },
      by: "hour" as const,
      per: "bag" as const,
      until: NOW,
    };
    const [there, here] = [original, alone].map((store) => new Ledger(store, () => NOW));
    const figures = (await there!.volumes("demo-a", whole)) as Json;
    expect(figures.done.total).toBeGreaterThan(500);
    expect(await here!.volumes("demo-a", whole)).toEqual(figures);
    const balance = { period: whole.period, by: "shift" as const, until: NOW };
    expect(await here!.balance("demo-a", balance)).toEqual(await there!.balance("demo-a", balance));
    await alone.close();
    await original.close();
  });
});

describe("a bundle that somebody changed", () => {
  it.each<[string, (bundle: Json) => void, string]>([
    [
      "in a figure",
      ({ entries }) => {
        entries[6].recorded.body.at = "2026-03-04T09:00:00-06:00";
      },
      "broken at encounter demo-a, entry 7: its text is not the one its digest was made of",
    ],
    [
      "and hashed anew",
      ({ entries }) => {
        entries[6].digest = entries[5].digest;
        entries[6].recorded = entries[5].recorded;
      },
      "broken at encounter demo-a, entry 7: it is missing",
    ],
    [
      "by taking one out",
      ({ entries }) => entries.splice(6, 1),
      "broken at encounter demo-a, entry 7: it is missing",
    ],
    ["by cutting off its end", ({ entries }) => entries.pop(), "the bundle says that it ends with entry"],
    [
      "by giving it to somebody else",
      ({ encounter }) => {
        encounter.id = "demo-b";
      },
      "broken at encounter demo-a, entry 1: it stands at encounter demo-b, entry 1",
    ],
    ["by what is no entry", ({ entries }) => entries.splice(3, 1, null), "entry 4: its text cannot be read"],
  ])("%s is named with its entry", async (_, change, sentence) => {
    const { bundle } = await exported();
    const [sound, printed] = await verified(await changed(bundle, change));
    expect(sound).toBe(false);
    expect(printed).toContain(sentence);
  });

  it.each<[string, string]>([
    ["{", "it is not JSON"],
    ["[]", "it has no form"],
    ["null", "it has no form"],
    ['{"form":2}', "its form is 2, and only 1 is known here"],
    ['{"form":1,"form":1}', 'the member "form" stands twice in one object'],
    ['{"form":1}', '#/caution: "caution" is required. #/asOf: "asOf" is required. #/encounter:'],
  ])("into %s is no bundle", async (text, why) => {
    const file = join(await folder(), "none.json");
    await writeFile(file, text);
    await expect(verified(file)).rejects.toThrow(`${file} is no bundle: ${why}`);
  });
});

describe("the head of a bundle", () => {
  it.each<[string, (bundle: Json) => void, string]>([
    ["identifier", ({ encounter }) => (encounter.patient.identifier = "DEMO-B"), "another patient"],
    ["name", ({ encounter }) => (encounter.patient.name = "Somebody Else"), "another patient"],
    ["want of a name", ({ encounter }) => delete encounter.patient.name, "another patient"],
    ["salt", ({ encounter }) => (encounter.patientSalt += "0"), "another patient"],
    ["want of a salt", ({ encounter }) => delete encounter.patientSalt, "another patient"],
    ["unit", ({ encounter }) => (encounter.unit = "other-unit"), "another unit"],
    [
      "admission",
      ({ encounter }) => (encounter.admittedAt = "2026-03-01T06:00:00-06:00"),
      "another time of admission",
    ],
    [
      "discharge",
      ({ encounter }) => (encounter.dischargedAt = "2026-03-04T09:59:00-06:00"),
      "another end of the stay",
    ],
    [
      "weight",
      ({ encounter }) => (encounter.admissionWeight = { value: 12, unit: "kg" }),
      "another weight on admission",
    ],
    [
      "time of recording",
      ({ asOf }) => (asOf.recordedAt = "2026-03-04T09:00:00-06:00"),
      "another time of recording",
    ],
  ])("with another %s is held to the entries", async (_, change, why) => {
    const { bundle } = await exported();
    const [sound, printed] = await verified(await changed(bundle, change));
    expect([sound, printed]).toEqual([
      false,
      expect.stringMatching(new RegExp(`^broken at encounter demo-a, entry \\d+: the bundle has ${why}`)),
    ]);
  });

  it.each<[string, (bundle: Json) => void, string]>([
    ["beside it", (bundle) => (bundle.figures = { net: 5 }), "#/figures: There is no field of this name"],
    ["in it", ({ encounter }) => (encounter.net = 5), "#/encounter/net: There is no field of this name"],
  ])("has nothing %s that is not a bundle's", async (_, change, why) => {
    const { bundle } = await exported();
    await expect(verified(await changed(bundle, change))).rejects.toThrow(why);
  });

  it("is not all that is looked at: an entry has nothing beside what is hashed, and nothing stands twice", async () => {
    const { bundle, file } = await exported();
    const noted = await changed(bundle, ({ entries }) => (entries[4].note = "Signed."));
    expect(await verified(noted)).toEqual([
      false,
      "broken at encounter demo-a, entry 5: its text cannot be read",
    ]);
    const text = await readFile(file, "utf8");
    const twice = join(await folder(), "twice.json");
    await writeFile(twice, text.replace('"kind":', '"kind":"weight-measured","kind":'));
    await expect(verified(twice)).rejects.toThrow('the member "kind" stands twice');
  });
});

describe("the commands", () => {
  it("export and verify, and write over nothing", async () => {
    const { database } = await demoDatabase();
    const environment = { DATABASE_URL: `file:${database}` };
    const file = join(await folder(), "one.json");
    const made = await call(["export", "demo-c", file], environment);
    expect([made.code, made.stdout.trim()]).toEqual([0, `demo-c is exported to ${file}`]);
    const sound = await call(["verify", "--bundle", file], {});
    expect([sound.code, sound.stdout]).toEqual([
      0,
      expect.stringMatching(/^verified 1 encounters, \d+ entries/),
    ]);
    const again = await call(["export", "demo-c", file], environment);
    expect([again.code, again.stderr]).toEqual([
      1,
      expect.stringContaining("it exists, and is not replaced"),
    ]);
    const nobody = await call(["export", "nobody", `${file}.2`], environment);
    expect([nobody.code, nobody.stderr]).toEqual([1, expect.stringContaining('no encounter "nobody"')]);
    const nothing = await call(["verify", "--bundle", `${file}.3`], {});
    expect([nothing.code, nothing.stderr]).toEqual([1, expect.stringContaining("there is no such file")]);
  });
});
