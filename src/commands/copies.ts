/**
 * Backup and restore. A backup is one file, whole and consistent, made while the service may go on; a
 * restore never writes over a database, and leaves nothing where what it copied is not sound.
 */

import { constants } from "node:fs";
import { chmod, copyFile, rm, stat } from "node:fs/promises";
import type { Config } from "../config.js";
import { verify } from "../ledger/verify.js";
import { openSqlite } from "../store/sqlite.js";
import { OWNER_ONLY, refusalOf } from "./files.js";
import { CommandRefused, type Print } from "./refused.js";
import { sentencesOf } from "./verify.js";

/** What SQLite keeps beside a database that is open, or was not closed. */
const COMPANIONS = ["-wal", "-shm"];

/** Copies the database into a new file. Throws CommandRefused where there is one already. */
export async function backup(config: Config, file: string, print: Print): Promise<void> {
  const store = await openSqlite(config.database, { migrate: false });
  try {
    await store.backup(file);
    print(`${config.database} is backed up in ${file}`);
  } catch (error) {
    throw refusalOf(file, error);
  } finally {
    await store.close();
  }
}

/**
 * Puts a backup in the place of the database, which must not be there yet; brings it to this program's
 * shape and verifies it. Throws CommandRefused, and leaves no database, where any of that fails.
 */
export async function restore(config: Config, file: string, print: Print): Promise<void> {
  const target = config.database;
  for (const path of [target, ...COMPANIONS.map((end) => target + end)]) {
    if ((await sizeOf(path)) !== undefined) throw new CommandRefused(`${path} exists, and is not replaced`);
  }
  if ((await sizeOf(file)) === undefined) throw new CommandRefused(`${file}: there is no such file`);
  // Its last commits would be in there and not in the file, and be lost without a word.
  if (((await sizeOf(`${file}-wal`)) ?? 0) > 0) {
    throw new CommandRefused(`${file} is a database in use, not a backup: make one with the command backup`);
  }
  await copyFile(file, target, constants.COPYFILE_EXCL).catch((error: unknown) => {
    throw refusalOf(`copying ${file} to ${target}`, error);
  });
  try {
    await chmod(target, OWNER_ONLY);
    print(await verified(target));
  } catch (error) {
    for (const path of [target, ...COMPANIONS.map((end) => target + end)]) await rm(path, { force: true });
    throw error;
  }
  print(`${file} is restored in ${target}`);
}

async function verified(path: string): Promise<string> {
  const store = await openSqlite(path, { migrate: true });
  try {
    const verdict = store.whole((rows, stays) => verify(rows, undefined, stays));
    const told = sentencesOf(verdict).join("\n");
    if (!verdict.sound) throw new CommandRefused(`nothing is restored; ${told}`);
    return told;
  } finally {
    await store.close();
  }
}

/** The size of a file in bytes, undefined where there is none. */
async function sizeOf(path: string): Promise<number | undefined> {
  return (await stat(path).catch(() => undefined))?.size;
}
