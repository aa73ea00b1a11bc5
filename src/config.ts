/**
 * The environment, read once and whole: every fault in it is named at once, and what comes out is
 * frozen. Nothing else in the program looks at environment variables.
 */

import { isIP } from "node:net";
import { fileURLToPath } from "node:url";
import type { AccessSettings } from "./access/settings.js";
import { ACCESS_DEFAULTS, accessIn } from "./config-access.js";
import { Fault } from "./config-fault.js";

export const LOG_LEVELS = ["fatal", "error", "warn", "info", "debug", "trace", "silent"] as const;
export type LogLevel = (typeof LOG_LEVELS)[number];

export interface Config {
  /** 0 asks the system for any free port. */
  readonly port: number;
  readonly host: string;
  /** The path of the database's file. */
  readonly database: string;
  readonly logLevel: LogLevel;
  readonly access: AccessSettings;
}

/** What holds where the environment says nothing; a variable set to nothing says nothing. */
export const DEFAULTS = {
  PORT: "8080",
  HOST: "127.0.0.1",
  DATABASE_URL: "file:ledger.db",
  LOG_LEVEL: "info",
  ...ACCESS_DEFAULTS,
} as const;

export type Variable = keyof typeof DEFAULTS;

/** The environment cannot be understood; `faults` has one sentence for each variable at fault. */
export class ConfigRefused extends Error {
  override readonly name = "ConfigRefused";

  constructor(readonly faults: readonly string[]) {
    super(faults.join("\n"));
  }
}

/**
 * The configuration in an environment, with `defaults` in place of the usual ones where given.
 * Throws ConfigRefused with every fault there is.
 */
export function readConfig(
  environment: Readonly<Record<string, string | undefined>>,
  defaults: Partial<Record<Variable, string>> = {},
): Config {
  const faults: string[] = [];
  const read = <T>(name: Variable, understand: (text: string) => T | Fault): T => {
    const text = environment[name] || defaults[name] || DEFAULTS[name];
    const value = understand(text);
    if (value instanceof Fault) faults.push(`${name} ${value.sentence}`);
    return value as T;
  };
  const config = {
    port: read("PORT", portIn),
    host: read("HOST", hostIn),
    database: read("DATABASE_URL", databaseIn),
    logLevel: read("LOG_LEVEL", logLevelIn),
    access: accessIn(read),
  };
  if (faults.length > 0) throw new ConfigRefused(faults);
  return Object.freeze(config);
}

function portIn(text: string): number | Fault {
  if (/^\d{1,5}$/.test(text) && Number(text) <= 65_535) return Number(text);
  return new Fault(`must be a port, a whole number from 0 to 65535, and is "${text}".`);
}

/** A name of the domain name system (RFC 1123, section 2.1). */
const HOST_NAME = /^(?=.{1,253}$)[a-z\d]([a-z\d-]{0,61}[a-z\d])?(\.[a-z\d]([a-z\d-]{0,61}[a-z\d])?)*$/i;

function hostIn(text: string): string | Fault {
  if (isIP(text) !== 0 || HOST_NAME.test(text)) return text;
  return new Fault(`must be an address or a host name, such as 127.0.0.1, and is "${text}".`);
}

function logLevelIn(text: string): LogLevel | Fault {
  const level = LOG_LEVELS.find((one) => one === text);
  return level ?? new Fault(`must be one of ${LOG_LEVELS.join(", ")}, and is "${text}".`);
}

// The text is not repeated here: an address of a database server has a password in it.
function databaseIn(text: string): string | Fault {
  if (/^postgres(ql)?:/i.test(text)) {
    return new Fault("names a PostgreSQL server, but this version has the embedded store only: use file:….");
  }
  if (!text.startsWith("file:")) return new Fault("must name a file, such as file:ledger.db.");
  if (/[?#]/.test(text)) return new Fault("must be file: and a path alone, without ? or #.");
  const path = pathIn(text);
  if (path === undefined || path === "") return new Fault("must name a file, such as file:ledger.db.");
  // What is asked to keep records must not forget them when it stops.
  if (path === ":memory:") return new Fault("must name a file: a ledger in memory would be lost.");
  return path;
}

/** The path of `file:ledger.db` (as it stands) or of `file:///var/ledger.db` (a URL, with its escapes). */
function pathIn(text: string): string | undefined {
  if (!text.startsWith("file://")) return text.slice("file:".length);
  try {
    return fileURLToPath(text);
  } catch {
    return undefined;
  }
}
