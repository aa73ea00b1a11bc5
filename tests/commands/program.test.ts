/** The program's own manners: its help, and what it says to a call it does not understand. */

import { describe, expect, it } from "vitest";
import { call } from "./program.js";

describe("the program", () => {
  it("names its commands and its environment when asked for help", async () => {
    const { code, stdout, stderr } = await call(["--help"], {});
    expect([code, stderr]).toEqual([0, ""]);
    const commands = ["serve", "demo", "token", "migrate", "verify", "backup", "restore"];
    for (const command of commands) expect(stdout).toMatch(new RegExp(`^ {2}${command} `, "m"));
    for (const variable of ["PORT", "HOST", "DATABASE_URL", "LOG_LEVEL"]) expect(stdout).toContain(variable);
  });

  it.each([
    ["an unknown command", ["infuse"], "unknown command 'infuse'"],
    ["an unknown option", ["verify", "--fast"], "unknown option '--fast'"],
    ["a backup to nowhere", ["backup"], "missing required argument 'file'"],
    ["a head that is no digest", ["verify", "--head", "abc"], "64 hexadecimal digits"],
  ])("ends with 2 at %s, and points to its help", async (_, words, reason) => {
    const { code, stdout, stderr } = await call(words, {});
    expect([code, stdout]).toEqual([2, ""]);
    expect(stderr).toContain(reason);
    expect(stderr).toContain("--help");
  });

  it("ends with 2 when called without a command, and shows its help", async () => {
    const { code, stderr } = await call([], {});
    expect(code).toBe(2);
    expect(stderr).toContain("Usage: ledger");
  });
});
