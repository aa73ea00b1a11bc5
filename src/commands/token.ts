/**
 * Tokens at the command line: how a program or a person first gets in. A token is shown once, when it is
 * made; a list has everything of it but that.
 */

import { v7 as uuidv7 } from "uuid";
import type { Role } from "../access/roles.js";
import { newToken } from "../access/token.js";
import type { Config } from "../config.js";
import { openSqlite } from "../store/sqlite.js";
import { ask, type Store, type TokenRecord } from "../store/store.js";
import { type Instant, instant } from "../time/instant.js";
import type { Print } from "./refused.js";

export interface TokenAsked {
  readonly role: Role;
  readonly name: string;
  /** The only unit the caller may act on; null for every unit. */
  readonly unit: string | null;
}

/** Makes a token in a store and returns its secret, which nothing can show again. */
export async function addToken(store: Store, asked: TokenAsked, now: Instant): Promise<string> {
  const { secret, hash } = newToken();
  await store.createToken({ id: uuidv7(), hash, ...asked, createdAt: now });
  return secret;
}

/** Makes a token, in a new database if need be: somebody has to be first. Its secret is the last line. */
export async function tokenCreate(config: Config, asked: TokenAsked, print: Print): Promise<void> {
  const store = await openSqlite(config.database, { migrate: true });
  try {
    const secret = await addToken(store, asked, instant(Date.now()));
    const { role, name, unit } = asked;
    print(`A token for ${name} (${role}${unit === null ? "" : `, unit ${unit}`}), shown this once:`);
    if (unit !== null && !(await isUnit(store, unit))) print(`There is no unit ${unit} yet.`);
    print(secret);
  } finally {
    await store.close();
  }
}

async function isUnit(store: Store, unit: string): Promise<boolean> {
  const head = await store.read(() => ask({ ask: "head", chain: `unit/${unit}` }));
  return head.sequence > 0;
}

/** Lists who has a token, one a line, the oldest first. */
export async function tokenList(config: Config, print: Print): Promise<void> {
  const store = await openSqlite(config.database, { migrate: false });
  try {
    const tokens = [...(await store.tokens())].sort((a, b) => a.createdAt - b.createdAt);
    if (tokens.length === 0) print("No token has been made yet.");
    for (const line of aligned(tokens.map(cellsOf))) print(line);
  } finally {
    await store.close();
  }
}

function cellsOf({ role, name, unit, createdAt }: TokenRecord): string[] {
  return [new Date(createdAt).toISOString(), role, unit ?? "every unit", name];
}

/** Rows of cells as lines, each column as wide as its widest cell. */
function aligned(rows: readonly (readonly string[])[]): string[] {
  const width = (column: number) => Math.max(...rows.map((row) => row[column]?.length ?? 0));
  return rows.map((row) =>
    row
      .map((cell, column) => cell.padEnd(width(column)))
      .join("  ")
      .trimEnd(),
  );
}
