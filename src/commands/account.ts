/**
 * Accounts at the command line: made, listed, opened and closed, given another password. A password is typed
 * without being shown, or comes in on standard input; as a word of the call it would stand in the shell's
 * history and in the list of processes.
 */

import { type AccountChange, Accounts, type NewAccount } from "../access/accounts.js";
import type { Config } from "../config.js";
import type { AccountRecord } from "../store/callers.js";
import { openSqlite } from "../store/sqlite.js";
import type { Store } from "../store/store.js";
import { AccountBody } from "../wire/access.js";
import { parse } from "../wire/parse.js";
import { CommandRefused, type Print } from "./refused.js";
import { aligned } from "./table.js";
import { unknownUnits } from "./token.js";

/** Reads a password; `twice` asks a person to repeat it. */
export type AskPassword = (twice: boolean) => Promise<string>;

export async function accountCreate(
  config: Config,
  asked: Omit<NewAccount, "password">,
  askPassword: AskPassword,
  print: Print,
): Promise<void> {
  await withAccounts(config, true, async (accounts, store) => {
    const account = { ...asked, password: await askPassword(true) };
    const { faults } = parse(AccountBody, account);
    if (faults !== undefined) throw new CommandRefused(faults.map(({ detail }) => detail).join("\n"));
    const made = await accounts.create(account);
    if (made === undefined) throw new CommandRefused(`there is an account ${asked.username} already`);
    for (const line of await unknownUnits(store, asked.units)) print(line);
    print(`${made.username} can sign in (${made.role}, ${unitsOf(made)}).`);
  });
}

/** Lists who has an account, one a line, in order of their usernames. */
export async function accountList(config: Config, print: Print): Promise<void> {
  await withAccounts(config, false, async (accounts) => {
    const all: AccountRecord[] = [];
    for (let page = await accounts.page("", 1_000); page.length > 0; ) {
      all.push(...page);
      page = await accounts.page(page.at(-1)!.username, 1_000);
    }
    if (all.length === 0) print("No account has been made yet.");
    for (const line of aligned(all.map(cellsOf))) print(line);
  });
}

/** Changes an account and ends its sessions. `done` is what is said of it then. */
export async function accountChange(
  config: Config,
  username: string,
  change: AccountChange,
  done: string,
  print: Print,
): Promise<void> {
  await withAccounts(config, false, async (accounts) => {
    const { id } = await existing(accounts, username);
    const changed = await accounts.change(id, change);
    print(`${changed!.username} ${done}`);
  });
}

/** Gives an account another password. */
export async function accountPassword(
  config: Config,
  username: string,
  askPassword: AskPassword,
  print: Print,
): Promise<void> {
  await withAccounts(config, false, async (accounts) => {
    const { id } = await existing(accounts, username);
    const password = await askPassword(true);
    const { faults } = parse(AccountBody.pick({ password: true }), { password });
    if (faults !== undefined) throw new CommandRefused(faults[0]!.detail);
    await accounts.change(id, { password });
    print(`${username} has another password, and is signed out everywhere.`);
  });
}

async function existing(accounts: Accounts, username: string): Promise<AccountRecord> {
  const found = await accounts.byUsername(username);
  if (found === undefined) throw new CommandRefused(`there is no account ${username}`);
  return found;
}

async function withAccounts(
  config: Config,
  migrate: boolean,
  run: (accounts: Accounts, store: Store) => Promise<void>,
): Promise<void> {
  const store = await openSqlite(config.database, { migrate });
  try {
    await run(new Accounts(store, Date.now), store);
  } finally {
    await store.close();
  }
}

function cellsOf(account: AccountRecord): string[] {
  const { username, role, active, name } = account;
  return [username, role, unitsOf(account), active ? "open" : "closed", name];
}

function unitsOf({ units }: Pick<AccountRecord, "units">): string {
  return units === null ? "every unit" : units.join(", ") || "no unit";
}
