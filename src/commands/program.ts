/**
 * What can be typed after `ledger`: a command for each thing to be done with one. What a person did wrong
 * is said in a sentence: 2 is the exit code for a call or an environment that cannot be understood, 1 for
 * what was understood and cannot be done.
 */

import { Command, CommanderError, Option } from "commander";
import { ROLES } from "../access/roles.js";
import { type Config, ConfigRefused, DEFAULTS, LOG_LEVELS, readConfig, type Variable } from "../config.js";
import { StoreRefused } from "../store/sqlite.js";
import { StoreUnavailable } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { digestArgument, instantArgument, nameArgument, unitArgument } from "./arguments.js";
import { backup, restore } from "./copies.js";
import { demo } from "./demo.js";
import { migrate } from "./migrate.js";
import { CommandRefused, type Print } from "./refused.js";
import { serve } from "./serve.js";
import { signatures } from "./signatures.js";
import { type TokenAsked, tokenCreate, tokenList } from "./token.js";
import { verifyDatabase } from "./verify.js";

const ENVIRONMENT = `
Environment:
  PORT          the port to listen on (${DEFAULTS.PORT})
  HOST          the address to listen on (${DEFAULTS.HOST})
  DATABASE_URL  the database's file (${DEFAULTS.DATABASE_URL}; demo: file:demo.db)
  LOG_LEVEL     ${LOG_LEVELS.join(", ")} (${DEFAULTS.LOG_LEVEL}; demo: warn)

The ledger documents. It does not control a device or advise on treatment.`;

/** Where the program finds itself: its environment, and where it writes. */
export interface Surroundings {
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly print: Print;
  /** For what is wrong. */
  readonly complain: Print;
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
  const { environment, print, complain } = surroundings;
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
  addKeeping(ledger, configured, print, failed);
  return ledger;
}

/** The configuration, read when a command needs it: asking for help needs none. */
type Configured = (defaults?: Partial<Record<Variable, string>>) => Config;

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

function addTokens(ledger: Command, configured: Configured, print: Print): void {
  const token = ledger.command("token").description("make and list the tokens of callers");
  token
    .command("create")
    .description("make a token; it is shown this once, on the last line")
    .addOption(new Option("--role <role>", "what the caller may do").choices(ROLES).makeOptionMandatory())
    .requiredOption("--name <name>", "who the caller is, as entries will show it", nameArgument)
    .option("--unit <unit>", "the only unit the caller may act on (every unit)", unitArgument)
    .action(({ role, name, unit = null }: TokenAsked) =>
      tokenCreate(configured(), { role, name, unit }, print),
    );
  token
    .command("list")
    .description("list who has a token")
    .action(() => tokenList(configured(), print));
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
    .action(async ({ head }: { head?: string }) => {
      if (!(await verifyDatabase(configured(), head, print))) failed();
    });
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
