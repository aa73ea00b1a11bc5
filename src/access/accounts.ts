/**
 * Accounts: made, changed and closed. Whatever changes who may do what ends the sessions of that account,
 * so that nobody goes on as who they were.
 */

import { v7 as uuidv7 } from "uuid";
import type { Clock } from "../ledger/ledger.js";
import { canonical } from "../ledger/record.js";
import type { AccountRecord, ChangeOfAccount } from "../store/callers.js";
import type { Store } from "../store/store.js";
import { instant } from "../time/instant.js";
import { COST, type Cost, hashOfPassword } from "./password.js";
import type { PersonsRole } from "./roles.js";

export interface NewAccount {
  readonly username: string;
  readonly name: string;
  readonly role: PersonsRole;
  /** The only units they work on; null for every unit. */
  readonly units: readonly string[] | null;
  readonly password: string;
}

/** What can change of an account; what is left out stays. */
export type AccountChange = Partial<Omit<NewAccount, "username">> & { readonly active?: boolean };

/** An account that was changed. */
export interface Changed {
  readonly account: AccountRecord;
  readonly change: readonly ChangeOfAccount[];
}

/** What of an account is another than it was, for the log: of one just made everything, and of a password only that. */
export function changesOf(was: AccountRecord | undefined, is: AccountRecord): ChangeOfAccount[] {
  const told = (["name", "role", "units", "active"] as const).flatMap((of): ChangeOfAccount[] => {
    if (was === undefined) return [{ of, is: is[of] }];
    return canonical(was[of]) === canonical(is[of]) ? [] : [{ of, was: was[of], is: is[of] }];
  });
  return (was?.password ?? "") === is.password ? told : [...told, { of: "password" }];
}

/** What an account is found by, however it was typed. */
export function usernameOf(typed: string): string {
  return typed.normalize("NFKC").toLowerCase();
}

export class Accounts {
  constructor(
    private readonly store: Pick<Store, "accounts" | "sessions">,
    private readonly clock: Clock,
    private readonly cost: Cost = COST,
  ) {}

  /** Undefined where the username is taken. */
  async create({ password, ...account }: NewAccount): Promise<AccountRecord | undefined> {
    const username = usernameOf(account.username);
    const hash = await hashOfPassword(password, this.cost);
    // After the slow part: nothing can come between the look and the writing.
    if ((await this.store.accounts.byUsername(username)) !== undefined) return undefined;
    const made = {
      ...account,
      id: uuidv7(),
      username,
      password: hash,
      active: true,
      createdAt: instant(this.clock()),
    };
    await this.store.accounts.add(made);
    return made;
  }

  /** The account as it is then, and what of it is another; undefined where there is none of this id. */
  async change(id: string, { password, ...change }: AccountChange): Promise<Changed | undefined> {
    const hash = password === undefined ? undefined : await hashOfPassword(password, this.cost);
    const found = await this.store.accounts.byId(id);
    if (found === undefined) return undefined;
    const changed = { ...found, ...change, ...(hash === undefined ? {} : { password: hash }) };
    await this.store.accounts.change(changed);
    await this.store.sessions.endOf(id);
    return { account: changed, change: changesOf(found, changed) };
  }

  byUsername(typed: string): Promise<AccountRecord | undefined> {
    return this.store.accounts.byUsername(usernameOf(typed));
  }

  /** In order of their usernames, after one. */
  page(after: string, limit: number): Promise<readonly AccountRecord[]> {
    return this.store.accounts.page(after, limit);
  }
}
