/** The commands that say who is let in: tokens of programs, accounts of people. */

import { type Command, Option } from "commander";
import type { NewAccount } from "../access/accounts.js";
import { PEOPLES_ROLES, ROLES } from "../access/roles.js";
import type { Instant } from "../time/instant.js";
import { type AskPassword, accountChange, accountCreate, accountList, accountPassword } from "./account.js";
import { expiryArgument, nameArgument, unitsArgument } from "./arguments.js";
import type { Configured } from "./program.js";
import type { Print } from "./refused.js";
import { type TokenAsked, tokenCreate, tokenList, tokenRevoke } from "./token.js";

const UNIT = [
  "--unit <unit>",
  "a unit the caller may act on; may be said several times (every unit)",
  unitsArgument,
] as const;

type Said<T> = Omit<T, "units"> & { readonly unit?: readonly string[] };

export function addTokens(ledger: Command, configured: Configured, print: Print): void {
  const token = ledger.command("token").description("make, list and revoke the tokens of callers");
  token
    .command("create")
    .description("make a token; it is shown this once, on the last line")
    .addOption(new Option("--role <role>", "what the caller may do").choices(ROLES).makeOptionMandatory())
    .requiredOption("--name <name>", "who the caller is, as entries will show it", nameArgument)
    .option(...UNIT)
    .option("--expires <instant>", "until when it is good, in RFC 3339 or as P90D (for good)", expiryArgument)
    .action(({ role, name, unit, expires }: Said<TokenAsked> & { expires?: Instant }) =>
      tokenCreate(configured(), { role, name, units: unit ?? null, expiresAt: expires ?? null }, print),
    );
  token
    .command("list")
    .description("list who has a token")
    .action(() => tokenList(configured(), print));
  token
    .command("revoke")
    .description("take a token away")
    .argument("<id>", "the token's id, as the list shows it")
    .action((id: string) => tokenRevoke(configured(), id, print));
}

export function addAccounts(
  ledger: Command,
  configured: Configured,
  askPassword: AskPassword,
  print: Print,
): void {
  const account = ledger
    .command("account")
    .description("the accounts of the people who sign in to the pages");
  account
    .command("create")
    .description("make an account; its password is asked for, or read from standard input")
    .requiredOption("--username <username>", "what the person signs in with")
    .requiredOption("--name <name>", "who it is, as entries will show it", nameArgument)
    .addOption(new Option("--role <role>", "what they may do").choices(PEOPLES_ROLES).makeOptionMandatory())
    .option(...UNIT)
    .action(({ username, name, role, unit }: Said<NewAccount>) =>
      accountCreate(configured(), { username, name, role, units: unit ?? null }, askPassword, print),
    );
  account
    .command("list")
    .description("list who has an account")
    .action(() => accountList(configured(), print));
  account
    .command("password <username>")
    .description("give an account another password, asked for or read from standard input")
    .action((username: string) => accountPassword(configured(), username, askPassword, print));
  for (const [command, active, description, done] of [
    ["disable", false, "close an account and sign it out", "can sign in no more."],
    ["enable", true, "open a closed account again", "can sign in again."],
  ] as const) {
    account
      .command(`${command} <username>`)
      .description(description)
      .action((username: string) => accountChange(configured(), username, { active }, done, print));
  }
}
