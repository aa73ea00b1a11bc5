/**
 * Accounts at the command line: made, listed, opened and closed, given another password. A password is typed
 * without being shown, or comes in on standard input; as a word of the call it would stand in the shell's
 * history and in the list of processes.
 */

import { AccessLog } from "../access/access-log.js";
import { type AccountChange, Accounts, changesOf, type NewAccount } from "../access/accounts.js";
import type { Config } from "../config.js";
import type { AccountRecord, ChangeOfAccount } from "../store/callers.js";
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
  await withAccounts(config, true, async (accounts, store, note) => {
    const account = { ...asked, password: await askPassword(true) };
    const { faults } = parse(AccountBody, account);
    if (faults !== undefined) throw new CommandRefused(faults.map(({ detail }) => detail).join("\n"));
    const made = await accounts.create(account);
    if (made === undefined) throw new CommandRefused(`there is an account ${asked.username} already`);
    await note("account create", made.id, changesOf(undefined, made));
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
  await withAccounts(config, false, async (accounts, _, note) => {
    const { id } = await existing(accounts, username);
    const changed = (await accounts.change(id, change))!;
    await note("account change", id, changed.change);
    print(`${changed.account.username} ${done}`);
  });
}

/** Gives an account another password. */
export async function accountPassword(
  config: Config,
  username: string,
  askPassword: AskPassword,
  print: Print,
): Promise<void> {
  await withAccounts(config, false, async (accounts, _, note) => {
    const { id } = await existing(accounts, username);
    const password = await askPassword(true);
    const { faults } = parse(AccountBody.pick({ password: true }), { password });
    if (faults !== undefined) throw new CommandRefused(faults[0]!.detail);
    const changed = (await accounts.change(id, { password }))!;
    await note("account password", id, changed.change);
    print(`${username} has another password, and is signed out everywhere.`);
  });
}

async function existing(accounts: Accounts, username: string): Promise<AccountRecord> {
  const found = await accounts.byUsername(username);
  if (found === undefined) throw new CommandRefused(`there is no account ${username}`);
  return found;
}

/** Writes down what was done to an account, as the service does. */
type Note = (command: string, account: string, change: readonly ChangeOfAccount[]) => Promise<void>;

async function withAccounts(
  config: Config,
  migrate: boolean,
  run: (accounts: Accounts, store: Store, note: Note) => Promise<void>,
): Promise<void> {
  const store = await openSqlite(config.database, { migrate });
  const log = new AccessLog(store, Date.now);
  const note: Note = (route, account, change) => {
    log.note({ ...AT_THE_MACHINE, route, about: { account, address: "this machine", change } });
    return log.flush();
  };
  try {
    await run(new Accounts(store, Date.now), store, note);
  } finally {
    await store.close();
  }
}

/** Whoever has the machine is believed to be who runs it. */
const AT_THE_MACHINE = {
  caller: "command-line",
  name: "Command line",
  role: "administrator",
  encounter: null,
  emergency: null,
  status: 200,
};

function cellsOf(account: AccountRecord): string[] {
  const { username, role, active, name } = account;
  return [username, role, unitsOf(account), active ? "open" : "closed", name];
}

function unitsOf({ units }: Pick<AccountRecord, "units">): string {
  return units === null ? "every unit" : units.join(", ") || "no unit";
}
