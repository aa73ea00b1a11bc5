/** Accounts of the people who sign in, for administrators of every unit. */

import { z } from "zod";
import { changesOf } from "../access/accounts.js";
import { done, refused } from "../ledger/refusal.js";
import type { AccountRecord, LoggedAboutAccount } from "../store/callers.js";
import { AccountAccessList, AccountAnswer, AccountBody, AccountList, AccountPatch } from "../wire/access.js";
import { listed } from "./lists.js";
import { limitOf, PAGE } from "./parameters.js";
import { type AnyRoute, bodyOf, route } from "./route.js";

export const ACCOUNTS: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/accounts",
    operation: "listAccounts",
    tag: "Access",
    summary: "List accounts",
    description: "Everybody who has an account, in order of their usernames.",
    query: z.strictObject(PAGE),
    answers: [{ status: 200, description: "A page of accounts.", schema: AccountList, headers: ["Link"] }],
    problems: [],
    handle: async (_, { access, query, url }) => {
      const limit = limitOf(query);
      const found = await access.accounts.page(query.after ?? "", limit + 1);
      const accounts = found.slice(0, limit);
      const next = found.length > limit ? accounts.at(-1)!.username : undefined;
      return done(listed({ accounts: accounts.map(accountText) }, next, url));
    },
  }),
  route({
    method: "POST",
    path: "/v1/accounts",
    operation: "createAccount",
    tag: "Access",
    summary: "Make an account",
    description:
      "A person can sign in from now on. An Idempotency-Key is not honoured here, since what is kept for a retry would tell of the password; a retry answers that the username is taken.",
    body: bodyOf(AccountBody, "The account."),
    answers: [{ status: 201, description: "It is made.", schema: AccountAnswer }],
    problems: ["id-exists"],
    handle: async (_, { access, body, about }) => {
      const made = await access.accounts.create(body);
      if (made === undefined) return refused({ problem: "id-exists", what: "account", id: body.username });
      about({ account: made.id, change: changesOf(undefined, made) });
      return done({ status: 201, body: accountText(made) });
    },
  }),
  route({
    method: "PATCH",
    path: "/v1/accounts/{account}",
    operation: "changeAccount",
    tag: "Access",
    summary: "Change an account",
    description:
      "Another name, role, password or other units, or open no more. Every session of the account ends.",
    body: bodyOf(AccountPatch, "What changes."),
    answers: [{ status: 200, description: "The account as it is now.", schema: AccountAnswer }],
    problems: [],
    handle: async (_, { access, ids, body, about }) => {
      const id = ids.account ?? "";
      const changed = await access.accounts.change(id, body);
      if (changed === undefined) return refused({ problem: "not-found", what: "account", id });
      about({ account: id, change: changed.change });
      return done({ status: 200, body: accountText(changed.account) });
    },
  }),
  route({
    method: "GET",
    path: "/v1/account-accesses",
    operation: "listAccountAccesses",
    tag: "Access",
    summary: "List who signed in, and what was done to accounts",
    description:
      "Every sign-in, good or failed, every sign-out and every change of an account, the last first: who, when, from where, how it ended, and what of which account is another now. Of passwords nothing is in it but that they changed, and of a name that nobody has only that one was tried. Nothing of it is ever changed.",
    query: z.strictObject(PAGE),
    answers: [
      { status: 200, description: "A page of accesses.", schema: AccountAccessList, headers: ["Link"] },
    ],
    problems: [],
    handle: async (_, { access, query, url }) => {
      const page = await access.log.ofAccounts(query.after ?? null, limitOf(query));
      if (page.refused) return page;
      return done(listed({ accesses: page.done.accesses.map(accessText) }, page.done.next, url));
    },
  }),
];

function accessText({ at, caller, name, role, route, status, about }: LoggedAboutAccount): object {
  return {
    at: new Date(at).toISOString(),
    ...(caller === "" ? {} : { by: { id: caller, name, role } }),
    route,
    status,
    account: about.account,
    address: about.address,
    changes: about.change,
  };
}

function accountText({ id, username, name, role, units, active }: AccountRecord): object {
  return { id, username, name, role, units, active };
}
