/**
 * What can be typed after `ledger`: a command for each thing to be done with one. What a person did wrong
 * is said in a sentence: 2 is the exit code for a call or an environment that cannot be understood, 1 for
 * what was understood and cannot be done.
 */

import { Command, CommanderError } from "commander";
import { type Config, ConfigRefused, DEFAULTS, LOG_LEVELS, readConfig, type Variable } from "../config.js";
import { StoreRefused } from "../store/sqlite.js";
import { StoreUnavailable } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import type { AskPassword } from "./account.js";
import { addAccounts, addTokens } from "./admission.js";
import { digestArgument, instantArgument } from "./arguments.js";
import { backup, restore } from "./copies.js";
import { demo } from "./demo.js";
import { exportEncounter } from "./export.js";
import { migrate } from "./migrate.js";
import { CommandRefused, type Print } from "./refused.js";
import { serve } from "./serve.js";
import { signatures } from "./signatures.js";
import { verifyBundleFile, verifyDatabase } from "./verify.js";

const ENVIRONMENT = `
Environment:
  PORT          the port to listen on (${DEFAULTS.PORT})
  HOST          the address to listen on (${DEFAULTS.HOST})
  DATABASE_URL  the database's file (${DEFAULTS.DATABASE_URL}; demo: file:demo.db)
  LOG_LEVEL     ${LOG_LEVELS.join(", ")} (${DEFAULTS.LOG_LEVEL}; demo: warn)
  PUBLIC_URL    where browsers find the service, such as https://ledger.example.org
  TRUSTED_PROXIES  addresses that are believed where a request comes from
  SESSION_IDLE_MINUTES, SESSION_HOURS  when who signed in is signed out
                (unused ${DEFAULTS.SESSION_IDLE_MINUTES} minutes; ${DEFAULTS.SESSION_HOURS} hours)
  OIDC_ISSUER, OIDC_AUDIENCE, OIDC_ROLE_CLAIM, OIDC_ROLES, OIDC_UNIT_CLAIM, OIDC_UNITS,
  OIDC_CLIENT_ID, OIDC_CLIENT_SECRET, OIDC_SCOPE
                an identity provider whose access tokens are let in, and where people
                sign in if it knows this service as a client (none)

The ledger documents. It does not control a device or advise on treatment.`;

/** Where the program finds itself: its environment, where it writes, and whom it asks. */
export interface Surroundings {
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly print: Print;
  /** For what is wrong. */
  readonly complain: Print;
  /** Asks whoever calls for a password. */
  readonly askPassword: AskPassword;
}

/**
 * Does what the words of a call ask, and returns the exit code. A service that was started goes on
 * after that, until a signal stops it.
 */
export async function run(words: readonly string[], surroundings: Surroundings): Promise<number> {
  try {
    let code = 0;
    const failed = () => {
      code = 1;
    };
    await program(surroundings, failed).parseAsync(words, { from: "user" });
    return code;
  } catch (error) {
    return told(error, surroundings.complain);
  }
}

function program(surroundings: Surroundings, failed: () => void): Command {
  const { environment, print, complain, askPassword } = surroundings;
  const ledger = new Command("ledger")
    .configureOutput({
      writeOut: (text) => print(text.trimEnd()),
      writeErr: (text) => complain(text.trimEnd()),
    })
    .description("A shift infusion intake-and-output ledger.")
    .addHelpText("after", ENVIRONMENT)
    .showHelpAfterError("(--help says how to call it)")
    .exitOverride();
  const configured: Configured = (defaults) => readConfig(environment, defaults);
  addServing(ledger, configured, print);
  addTokens(ledger, configured, print);
  addAccounts(ledger, configured, askPassword, print);
  addKeeping(ledger, configured, print, failed);
  return ledger;
}

/** The configuration, read when a command needs it: asking for help needs none. */
export type Configured = (defaults?: Partial<Record<Variable, string>>) => Config;

function addServing(ledger: Command, configured: Configured, print: Print): void {
  ledger
    .command("serve")
    .description("serve the API and the pages, until SIGTERM or Ctrl-C")
    .action(() => serve(configured()));
  ledger
    .command("demo")
    .description("fill an empty database with an invented unit, and serve it")
    .option("--at <instant>", "up to when its story is told, in RFC 3339 (now)", instantArgument)
    .option("--fill-only", "fill the database, and stop", false)
    .action(({ at, fillOnly }: { at?: Instant; fillOnly: boolean }) => {
      const config = configured({ DATABASE_URL: "file:demo.db", LOG_LEVEL: "warn" });
      return demo(config, { at, fillOnly }, print);
    });
}

function addKeeping(ledger: Command, configured: Configured, print: Print, failed: () => void): void {
  ledger
    .command("migrate")
    .description("bring the database to the newest shape, or make it")
    .action(() => migrate(configured(), print));
  ledger
    .command("verify")
    .description("verify every entry of the database, and name the first broken link")
    .option("--head <digest>", "a digest given out once, that must still be there", digestArgument)
    .option("--bundle <file>", "verify an exported encounter instead of the database")
    .action(async ({ head, bundle }: { head?: string; bundle?: string }) => {
      const sound =
        bundle === undefined
          ? verifyDatabase(configured(), head, print)
          : verifyBundleFile(bundle, head, print);
      if (!(await sound)) failed();
    });
  ledger
    .command("export")
    .description("write one encounter into a file of its own, whom it is of and every entry")
    .argument("<encounter>", "the encounter's id")
    .argument("<file>", "the file to make")
    .action((encounter: string, file: string) => exportEncounter(configured(), encounter, file, print));
  ledger
    .command("signatures")
    .description("list signed shifts whose figures this version of the calculation makes otherwise")
    .action(() => signatures(configured(), print));
  ledger
    .command("backup")
    .description("copy the database into a new file, also while it is served")
    .argument("<file>", "the file to make")
    .action((file: string) => backup(configured(), file, print));
  ledger
    .command("restore")
    .description("put a backup where no database is yet, and verify it")
    .argument("<file>", "the backup")
    .action((file: string) => restore(configured(), file, print));
}

/** Says what went wrong, and returns the exit code that goes with it. */
function told(error: unknown, complain: Print): number {
  // Commander has said it already, also where it was only asked for help.
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  if (error instanceof ConfigRefused) {
    for (const fault of error.faults) complain(fault);
    return 2;
  }
  const ours = [CommandRefused, StoreRefused, StoreUnavailable].some((known) => error instanceof known);
  complain(error instanceof Error && !ours ? (error.stack ?? error.message) : messageOf(error));
  return 1;
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
