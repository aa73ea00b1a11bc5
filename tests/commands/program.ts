/** The program as somebody at a terminal has it: started from its source, in a folder of its own. */

import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach } from "vitest";
import { DEFAULT_ACCESS } from "../../src/access/settings.js";
import { run } from "../../src/commands/program.js";
import type { Config } from "../../src/config.js";

const folders: string[] = [];
const running = new Set<ChildProcess>();

afterEach(async () => {
  for (const child of running) child.kill("SIGKILL");
  running.clear();
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true });
});

/** An empty folder that is gone after the test. */
export async function folder(): Promise<string> {
  const made = await mkdtemp(join(tmpdir(), "ledger-"));
  folders.push(made);
  return made;
}

/** A configuration for a database that is not there yet. */
export async function newDatabase(): Promise<Config> {
  const database = join(await folder(), "ledger.db");
  return { port: 0, host: "127.0.0.1", database, logLevel: "info", access: DEFAULT_ACCESS };
}

export interface Running {
  readonly child: ChildProcess;
  readonly written: { stdout: string; stderr: string };
  /** The first group of the pattern, once the program has written it to its standard output. */
  wrote(pattern: RegExp): Promise<string>;
  /** The exit code; null for a program that a signal ended. */
  readonly ended: Promise<number | null>;
}

/** Starts `ledger <words>` with nothing in its environment but `variables` and what a program needs. */
export function start(words: readonly string[], variables: Readonly<Record<string, string>>): Running {
  const child = spawn(process.execPath, ["--import", "tsx", "src/main.ts", ...words], {
    env: { PATH: process.env.PATH, ...variables },
    stdio: ["ignore", "pipe", "pipe"],
  });
  running.add(child);
  const written = { stdout: "", stderr: "" };
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    written.stdout += text;
  });
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    written.stderr += text;
  });
  const ended = once(child, "close").then(([code]) => {
    running.delete(child);
    return code as number | null;
  });
  const wrote = (pattern: RegExp) =>
    new Promise<string>((resolve, reject) => {
      const look = () => {
        const found = pattern.exec(written.stdout)?.[1];
        if (found !== undefined) resolve(found);
      };
      child.stdout.on("data", look);
      ended.then(() => reject(new Error(`it ended without writing ${pattern}: ${written.stderr}`)));
      look();
    });
  return { child, written, wrote, ended };
}

export interface Ran {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Does what `ledger <words>` does, in this process; for what ends by itself. */
export async function call(
  words: readonly string[],
  environment: Readonly<Record<string, string>>,
  password = "",
): Promise<Ran> {
  const [out, err] = [lines(), lines()];
  const askPassword = async () => password;
  const code = await run(words, { environment, print: out.print, complain: err.print, askPassword });
  return { code, stdout: out.printed.join("\n"), stderr: err.printed.join("\n") };
}

/** Collects what a command prints. */
export function lines(): { readonly printed: string[]; readonly print: (line: string) => void } {
  const printed: string[] = [];
  return { printed, print: (line) => void printed.push(line) };
}
