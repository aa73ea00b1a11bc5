/**
 * The command line: one program, a command for each thing to be done with a ledger. What a person did
 * wrong is said in a sentence: 2 is the exit code for a call or an environment that cannot be understood,
 * 1 for what was understood and cannot be done.
 */

import { Command, CommanderError, InvalidArgumentError, Option } from "commander";
import { ROLES } from "./access/roles.js";
import { backup, restore } from "./commands/copies.js";
import { type DemoAsked, demo } from "./commands/demo.js";
import { migrate } from "./commands/migrate.js";
import { CommandRefused, type Print } from "./commands/refused.js";
import { serve } from "./commands/serve.js";
import { type TokenAsked, tokenCreate, tokenList } from "./commands/token.js";
import { verifyDatabase } from "./commands/verify.js";
import { type Config, ConfigRefused, DEFAULTS, LOG_LEVELS, readConfig, type Variable } from "./config.js";
import { StoreRefused } from "./store/sqlite.js";
import { StoreUnavailable } from "./store/store.js";
import { type Instant, parseInstant } from "./time/instant.js";
import { Key, text } from "./wire/text.js";

const ENVIRONMENT = `
Environment:
  PORT          the port to listen on (${DEFAULTS.PORT})
  HOST          the address to listen on (${DEFAULTS.HOST})
  DATABASE_URL  the database's file (${DEFAULTS.DATABASE_URL}; demo: file:demo.db)
  LOG_LEVEL     ${LOG_LEVELS.join(", ")} (${DEFAULTS.LOG_LEVEL}; demo: warn)

The ledger documents. It does not control a device or advise on treatment.`;

const print: Print = (line) => console.log(line);

function configured(defaults: Partial<Record<Variable, string>> = {}): Config {
  return readConfig(process.env, defaults);
}

function program(): Command {
  const ledger = new Command("ledger")
    .description("A shift infusion intake-and-output ledger.")
    .addHelpText("after", ENVIRONMENT)
    .showHelpAfterError("(--help says how to call it)")
    .exitOverride();

  ledger
    .command("serve")
    .description("serve the API and the pages, until SIGTERM or Ctrl-C")
    .action(() => serve(configured()));

  ledger
    .command("demo")
    .description("fill an empty database with an invented unit, and serve it")
    .option("--at <instant>", "up to when its story is told, in RFC 3339 (now)", pastInstant)
    .option("--fill-only", "fill the database, and stop", false)
    .action((asked: { at?: Instant; fillOnly: boolean }) => {
      const demoAsked: DemoAsked = { at: asked.at, fillOnly: asked.fillOnly };
      return demo(configured({ DATABASE_URL: "file:demo.db", LOG_LEVEL: "warn" }), demoAsked, print);
    });

  const token = ledger.command("token").description("make and list the tokens of callers");
  token
    .command("create")
    .description("make a token; it is shown this once, on the last line")
    .addOption(new Option("--role <role>", "what the caller may do").choices(ROLES).makeOptionMandatory())
    .requiredOption("--name <name>", "who the caller is, as entries will show it", callerName)
    .option("--unit <unit>", "the only unit the caller may act on (every unit)", unitKey)
    .action(({ role, name, unit = null }: TokenAsked) =>
      tokenCreate(configured(), { role, name, unit }, print),
    );
  token
    .command("list")
    .description("list who has a token")
    .action(() => tokenList(configured(), print));

  ledger
    .command("migrate")
    .description("bring the database to the newest shape, or make it")
    .action(() => migrate(configured(), print));

  ledger
    .command("verify")
    .description("verify every entry of the database, and name the first broken link")
    .option("--head <digest>", "a digest given out once, that must still be there", digest)
    .action(async ({ head }: { head?: string }) => {
      if (!(await verifyDatabase(configured(), head, print))) process.exitCode = 1;
    });

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

  return ledger;
}

function pastInstant(given: string): Instant {
  const parsed = parseInstant(given);
  if (typeof parsed === "number") return parsed;
  throw new InvalidArgumentError("It must be RFC 3339 with an offset, such as 2026-03-04T10:00:00-06:00.");
}

function callerName(given: string): string {
  const name = text(200, "The name of a caller.").safeParse(given);
  if (name.success) return name.data;
  throw new InvalidArgumentError("It must be 1 to 200 characters, not blank, in one line.");
}

function unitKey(given: string): string {
  if (Key.safeParse(given).success) return given;
  throw new InvalidArgumentError("It must be 1 to 64 letters, digits, dots, underscores or hyphens.");
}

function digest(given: string): string {
  if (/^[0-9a-f]{64}$/.test(given)) return given;
  throw new InvalidArgumentError("It must be a digest: 64 hexadecimal digits in lower case.");
}

/** Says what went wrong, and returns the exit code that goes with it. */
function told(error: unknown): number {
  // Commander has said it already, also where it was only asked for help.
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  if (error instanceof ConfigRefused) {
    for (const fault of error.faults) console.error(fault);
    return 2;
  }
  const ours = [CommandRefused, StoreRefused, StoreUnavailable].some((known) => error instanceof known);
  console.error(ours ? (error as Error).message : error);
  return 1;
}

try {
  await program().parseAsync();
} catch (error) {
  process.exitCode = told(error);
}
