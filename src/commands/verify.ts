/**
 * Verification at the command line: every entry of every chain is held to its digest and to the one
 * before it, and the directory to the chains. The last line is for programs too: `verified N encounters, M entries`.
 */

import { readFile } from "node:fs/promises";
import type { Config } from "../config.js";
import { NoBundle, verifyBundle } from "../ledger/bundle.js";
import { type Verdict, verify } from "../ledger/verify.js";
import { openSqlite } from "../store/sqlite.js";
import { refusalOf } from "./files.js";
import { CommandRefused, type Print } from "./refused.js";

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
    const verdict = store.whole((rows, stays) => verify(rows, head, stays));
    for (const sentence of sentencesOf(verdict)) print(sentence);
    return verdict.sound;
  } finally {
    await store.close();
  }
}

/** Verifies a bundle in a file as a database is verified. Throws CommandRefused for what is no bundle. */
export async function verifyBundleFile(
  file: string,
  head: string | undefined,
  print: Print,
): Promise<boolean> {
  const text = await readFile(file, "utf8").catch((error: unknown) => {
    throw refusalOf(file, error);
  });
  try {
    const verdict = verifyBundle(text, head);
    for (const sentence of sentencesOf(verdict)) print(sentence);
    return verdict.sound;
  } catch (error) {
    if (error instanceof NoBundle) throw new CommandRefused(`${file} is no bundle: ${error.message}`);
    throw error;
  }
}

/** What was found, in a line; before it one of what could not be held to the record, where there is such. */
export function sentencesOf(verdict: Verdict): string[] {
  if (!verdict.sound) {
    const { chain, sequence, why } = verdict;
    return [`broken${chain === "" ? "" : ` at ${chain.replace("/", " ")}, entry ${sequence}`}: ${why}`];
  }
  const { encounters, entries, unheld } = verdict;
  const verified = `verified ${encounters} encounters, ${entries} entries`;
  if (unheld === 0) return [verified];
  return [
    `not held to the chain: the patient of ${unheld} encounters, admitted by an earlier release`,
    verified,
  ];
}
