/**
 * Copies of a database: whole, consistent, and never over a file that is there. The copy is made a
 * few pages at a time between the requests, and takes in what is written meanwhile.
 */

import { open, rm } from "node:fs/promises";
import type { Database } from "better-sqlite3";

/** For the owner alone: a copy holds who the patients are. */
const OWNER_ONLY = 0o600;

/**
 * Copies a database into a new file at `path`.
 * Throws an Error if a file is there already or cannot be made; a copy that fails leaves no file.
 */
export async function copyTo(handle: Database, path: string): Promise<void> {
  // Made before it is filled, so that two copies at once cannot both find the name free.
  const file = await open(path, "wx", OWNER_ONLY);
  await file.close();
  try {
    await handle.backup(path);
  } catch (error) {
    await rm(path, { force: true });
    throw error;
  }
}
