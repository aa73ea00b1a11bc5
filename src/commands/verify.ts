/**
 * Verification at the command line: every entry of every chain is held to its digest and to the one
 * before it. The last line is for programs too: `verified N encounters, M entries`.
 */

import type { Config } from "../config.js";
import { type Verdict, verify } from "../ledger/verify.js";
import { openSqlite } from "../store/sqlite.js";
import type { Print } from "./refused.js";

/**
 * Verifies the database and says how that went: false after the first broken link. With `head`, a digest
 * that was given out once, a chain whose end was cut off is broken too.
 */
export async function verifyDatabase(
  config: Config,
  head: string | undefined,
  print: Print,
): Promise<boolean> {
  const store = await openSqlite(config.database, { migrate: false });
  try {
    const verdict = verify(store.everyRow(), head);
    print(sentenceOf(verdict));
    return verdict.sound;
  } finally {
    await store.close();
  }
}

/** What was found, in a line. */
export function sentenceOf(verdict: Verdict): string {
  if (verdict.sound) return `verified ${verdict.encounters} encounters, ${verdict.entries} entries`;
  const { chain, sequence, why } = verdict;
  return `broken${chain === "" ? "" : ` at ${chain.replace("/", " ")}, entry ${sequence}`}: ${why}`;
}
