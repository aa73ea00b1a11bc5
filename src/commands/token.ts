/**
 * Tokens at the command line: how a program or a person first gets in. A token is shown once, when it is
 * made; a list has everything of it but that.
 */

import { v7 as uuidv7 } from "uuid";
import type { Role } from "../access/roles.js";
import { newToken } from "../access/token.js";
import type { Config } from "../config.js";
import type { TokenRecord } from "../store/callers.js";
import { openSqlite } from "../store/sqlite.js";
import { ask, type Store } from "../store/store.js";
import { type Instant, instant } from "../time/instant.js";
import { CommandRefused, type Print } from "./refused.js";
import { aligned } from "./table.js";

export interface TokenAsked {
  readonly role: Role;
  readonly name: string;
  /** The only units the caller may act on; null for every unit. */
  readonly units: readonly string[] | null;
  /** From when on it lets nobody in; null for never. */
  readonly expiresAt?: Instant | null;
}

/** Makes a token in a store and returns its secret, which nothing can show again. */
export async function addToken(store: Store, asked: TokenAsked, now: Instant): Promise<string> {
  const { secret, hash } = newToken();
  const { expiresAt = null, ...caller } = asked;
  await store.createToken({ id: uuidv7(), hash, ...caller, createdAt: now, expiresAt, revokedAt: null });
  return secret;
}

/** Makes a token, in a new database if need be: somebody has to be first. Its secret is the last line. */
export async function tokenCreate(config: Config, asked: TokenAsked, print: Print): Promise<void> {
  const now = instant(Date.now());
  if (asked.expiresAt != null && asked.expiresAt <= now) {
    throw new CommandRefused("--expires lies in the past: such a token would let nobody in");
  }
  const store = await openSqlite(config.database, { migrate: true });
  try {
    const secret = await addToken(store, asked, now);
    const { role, name, units, expiresAt = null } = asked;
    const where = units === null ? "" : `, ${units.length === 1 ? "unit" : "units"} ${units.join(", ")}`;
    const until = expiresAt === null ? "" : `, until ${new Date(expiresAt).toISOString()}`;
    print(`A token for ${name} (${role}${where}${until}), shown this once:`);
    for (const line of await unknownUnits(store, units)) print(line);
    print(secret);
  } finally {
    await store.close();
  }
}

/** A line for each unit that is not there yet, which may be a slip. */
export async function unknownUnits(store: Store, units: readonly string[] | null): Promise<string[]> {
  const lines: string[] = [];
  for (const unit of units ?? []) {
    const head = await store.read(() => ask({ ask: "head", chain: `unit/${unit}` }));
    if (head.sequence === 0) lines.push(`There is no unit ${unit} yet.`);
  }
  return lines;
}

/** Lists who has a token, one a line, the oldest first. */
export async function tokenList(config: Config, print: Print): Promise<void> {
  const store = await openSqlite(config.database, { migrate: false });
  try {
    const tokens = [...(await store.tokens())].sort((a, b) => a.createdAt - b.createdAt);
    if (tokens.length === 0) print("No token has been made yet.");
    for (const line of aligned(tokens.map((token) => cellsOf(token, Date.now())))) print(line);
  } finally {
    await store.close();
  }
}

/** Takes a token away; a service that runs lets it in for some seconds more. */
export async function tokenRevoke(config: Config, id: string, print: Print): Promise<void> {
  const store = await openSqlite(config.database, { migrate: false });
  try {
    if (!(await store.revokeToken(id, instant(Date.now())))) {
      throw new CommandRefused(`there is no token ${id} that lets anybody in; token list shows their ids`);
    }
    print(`The token ${id} lets nobody in any more.`);
  } finally {
    await store.close();
  }
}

function cellsOf({ id, role, name, units, createdAt, ...token }: TokenRecord, now: number): string[] {
  const made = new Date(createdAt).toISOString();
  return [id, made, role, units === null ? "every unit" : units.join(", "), goodFor(token, now), name];
}

function goodFor(
  { expiresAt, revokedAt }: Pick<TokenRecord, "expiresAt" | "revokedAt">,
  now: number,
): string {
  if (revokedAt !== null) return `revoked ${new Date(revokedAt).toISOString()}`;
  if (expiresAt === null) return "does not expire";
  return `${expiresAt <= now ? "expired" : "expires"} ${new Date(expiresAt).toISOString()}`;
}
