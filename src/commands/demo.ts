/**
 * The demo: a ledger filled with an invented unit's last three shifts, tokens to look at it with, and the
 * service on it. It only ever fills an empty database, and says that nothing in it is real.
 */

import { pino } from "pino";
import { ROLES, type Role } from "../access/roles.js";
import type { Config } from "../config.js";
import { contentOf, seed } from "../demo/seed.js";
import { lastWholeShift, UNIT } from "../demo/telling.js";
import { openSqlite } from "../store/sqlite.js";
import type { Store } from "../store/store.js";
import { type Instant, instant } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { CommandRefused, type Print } from "./refused.js";
import { listen } from "./serve.js";
import { addToken } from "./token.js";

export interface DemoAsked {
  /** Up to when the story is told; undefined for now. */
  readonly at: Instant | undefined;
  /** Whether to stop once the database is filled. */
  readonly fillOnly: boolean;
}

/** Fills the database if it is empty, makes a token for each role, and serves. */
export async function demo(config: Config, asked: DemoAsked, print: Print): Promise<void> {
  const now = instant(Date.now());
  if (asked.at !== undefined && asked.at > now) {
    throw new CommandRefused("--at lies in the future, of which nothing can be told");
  }
  const store = await openSqlite(config.database, { migrate: true });
  let upTo: Instant;
  let tokens: Tokens;
  try {
    upTo = await filled(store, config.database, asked.at, now);
    tokens = await tokensFor(store, now);
  } catch (error) {
    await store.close();
    throw error;
  }
  print("An invented unit: no patient, nurse or device in this demo is real.");
  print(`Three shifts in ${config.database}, told up to ${formatInstant(upTo, UNIT.zone)}.`);
  if (asked.fillOnly) {
    await store.close();
  } else {
    const url = await listen(config, store, pino({ level: config.logLevel }));
    for (const line of whatToOpen(url, tokens, upTo)) print(line);
  }
  print("");
  print("A token for each role, new at each start:");
  for (const [role, token] of Object.entries(tokens)) print(`  ${role.padEnd(14)} ${token}`);
}

/** Fills an empty store; returns up to when the demo in it is told. */
async function filled(
  store: Store,
  database: string,
  at: Instant | undefined,
  now: Instant,
): Promise<Instant> {
  const content = await contentOf(store);
  if (content === "something else") {
    throw new CommandRefused(
      `${database} holds something other than the demo, which needs an empty database`,
    );
  }
  if (content === "nothing") {
    const upTo = at ?? now;
    await seed(store, upTo);
    return upTo;
  }
  if (at !== undefined) {
    const told = formatInstant(content.upTo, UNIT.zone);
    throw new CommandRefused(`${database} holds the demo up to ${told}; --at is for an empty database`);
  }
  return content.upTo;
}

type Tokens = Readonly<Record<Role, string>>;

async function tokensFor(store: Store, now: Instant): Promise<Tokens> {
  const made: [string, string][] = [];
  for (const role of ROLES) {
    const asked = { role, name: `Demo ${role.replace("-", " ")} (invented)`, units: null };
    made.push([role, await addToken(store, asked, now)]);
  }
  return Object.fromEntries(made) as Tokens;
}

function whatToOpen(url: string, tokens: Tokens, upTo: Instant): string[] {
  const { date, name } = lastWholeShift(upTo);
  const volumes = `${url}/v1/encounters/demo-a/volumes?shift=${date}/${name}&by=hour&per=line`;
  return [
    "",
    "Open the unit as its nurse:",
    `  ${url}/#token=${tokens.nurse}`,
    "Read how to call it:",
    `  ${url}/reference`,
    "Ask for one patient's volumes, hour by hour and line by line:",
    `  curl -H 'Authorization: Bearer ${tokens.integration}' '${volumes}'`,
    "",
    "Ctrl-C stops it.",
  ];
}
