/** Backups and what comes back from them. */

import { copyFile, readFile, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { backup, restore } from "../../src/commands/copies.js";
import { CommandRefused } from "../../src/commands/refused.js";
import type { Config } from "../../src/config.js";
import { seed } from "../../src/demo/seed.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { type Instant, parseInstant } from "../../src/time/instant.js";
import { folder, lines, newDatabase } from "./program.js";
import { flipByte } from "./tampering.js";

const NOW = parseInstant("2026-03-04T10:00:00-06:00") as Instant;

const silent = () => {};

async function demoDatabase(): Promise<Config> {
  const config = await newDatabase();
  const store = await openSqlite(config.database, { migrate: true });
  await seed(store, NOW);
  await store.close();
  return config;
}

async function digestsIn({ database }: Config): Promise<string[]> {
  const store = await openSqlite(database, { migrate: false });
  try {
    return [...store.everyRow()].map(({ digest }) => digest);
  } finally {
    await store.close();
  }
}

const isThere = (path: string) =>
  stat(path).then(
    () => true,
    () => false,
  );

describe("a backup", () => {
  it("comes back whole, and verified", async () => {
    const [original, copy] = [await demoDatabase(), await newDatabase()];
    const file = join(await folder(), "backup.db");
    await backup(original, file, silent);
    const { printed, print } = lines();
    await restore(copy, file, print);
    expect(printed).toEqual([
      expect.stringMatching(/^verified 9 encounters, \d+ entries$/),
      `${file} is restored in ${copy.database}`,
    ]);
    const digests = await digestsIn(copy);
    expect(digests).toEqual(await digestsIn(original));
    expect(digests.length).toBeGreaterThan(250);
  });

  it("is made while the database is in use, with what was recorded last", async () => {
    const config = await demoDatabase();
    const store = await openSqlite(config.database, { migrate: false });
    await store.createToken({
      id: "1",
      hash: "f".repeat(64),
      role: "nurse",
      name: "Night",
      units: null,
      createdAt: NOW,
      expiresAt: null,
      revokedAt: null,
    });
    const file = join(await folder(), "backup.db");
    await backup(config, file, silent);
    await store.close();
    const copy = await openSqlite(file, { migrate: false });
    expect(await copy.tokens()).toHaveLength(1);
    await copy.close();
  });

  it("is for its owner's eyes alone, and so is what comes back", async () => {
    const [original, copy] = [await demoDatabase(), await newDatabase()];
    const file = join(await folder(), "backup.db");
    await backup(original, file, silent);
    await restore(copy, file, silent);
    for (const path of [file, copy.database]) expect((await stat(path)).mode & 0o077).toBe(0);
  });

  it("does not replace a file", async () => {
    const file = join(await folder(), "letter.txt");
    await writeFile(file, "precious");
    await expect(backup(await demoDatabase(), file, silent)).rejects.toThrow(CommandRefused);
    expect(await readFile(file, "utf8")).toBe("precious");
  });

  it("is not made of a database that is not there", async () => {
    const file = join(await folder(), "backup.db");
    await expect(backup(await newDatabase(), file, silent)).rejects.toThrow(/there is no file there/);
    expect(await isThere(file)).toBe(false);
  });
});

describe("a restore", () => {
  it("does not replace a database", async () => {
    const [original, other] = [await demoDatabase(), await demoDatabase()];
    const before = await readFile(other.database);
    await expect(restore(other, original.database, silent)).rejects.toThrow(/exists, and is not replaced/);
    expect(await readFile(other.database)).toEqual(before);
  });

  it("does not put a database beside the log of one that is gone", async () => {
    const [original, target] = [await demoDatabase(), await newDatabase()];
    await writeFile(`${target.database}-wal`, "left behind");
    await expect(restore(target, original.database, silent)).rejects.toThrow(/-wal exists/);
    expect(await isThere(target.database)).toBe(false);
  });

  it("names the broken link of a damaged backup, and leaves no database", async () => {
    const [original, target] = [await demoDatabase(), await newDatabase()];
    flipByte(original.database, "encounter/demo-d", 3);
    await expect(restore(target, original.database, silent)).rejects.toThrow(
      /nothing is restored; broken at encounter demo-d, entry 3/,
    );
    for (const end of ["", "-wal", "-shm"]) expect(await isThere(target.database + end)).toBe(false);
  });

  it("refuses what is no ledger, and leaves no database", async () => {
    const target = await newDatabase();
    const file = join(await folder(), "letter.txt");
    await writeFile(file, "Dear ledger, ".repeat(1_000));
    await expect(restore(target, file, silent)).rejects.toThrow(/not a SQLite database/);
    expect(await isThere(target.database)).toBe(false);
  });

  it("refuses a copy of a database in use, whose last entries are elsewhere", async () => {
    const [original, target] = [await demoDatabase(), await newDatabase()];
    const file = join(await folder(), "copy.db");
    await copyFile(original.database, file);
    await writeFile(`${file}-wal`, "the last entries");
    await expect(restore(target, file, silent)).rejects.toThrow(/in use, not a backup/);
    expect(await isThere(target.database)).toBe(false);
  });

  it("refuses a file that is not there", async () => {
    const file = join(await folder(), "nothing.db");
    await expect(restore(await newDatabase(), file, silent)).rejects.toThrow(/there is no such file/);
  });
});
