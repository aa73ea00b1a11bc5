/** Ledgers in files of their own, which go when the test that opened them ends. */

import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";
import { openSqlite } from "../../src/store/sqlite.js";
import type { Store } from "../../src/store/store.js";

/** A path for a ledger, whose folder goes when the test ends. */
export function ledgerPath(): string {
  const folder = mkdtempSync(join(tmpdir(), "ledger-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return join(folder, "ledger.db");
}

/** An open store on a new ledger, closed when the test ends. */
export async function openLedger(path = ledgerPath(), busyTimeout = 0): Promise<Store> {
  const store = await openSqlite(path, { migrate: true, busyTimeout });
  onTestFinished(() => store.close());
  return store;
}
