/** Accounts from the command line: the password comes in from outside of the call, and nothing shows it. */

import { readFile } from "node:fs/promises";
import { PassThrough } from "node:stream";
import { describe, expect, it } from "vitest";
import { isPassword } from "../../src/access/password.js";
import { passwordFrom } from "../../src/commands/password.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { call, newDatabase } from "./program.js";

const PASSWORD = "correct horse battery";
const CREATE = ["account", "create", "--username", "I.Nurse", "--name", "Imaginary Nurse", "--role", "nurse"];

async function opened() {
  const { database } = await newDatabase();
  const environment = { DATABASE_URL: `file:${database}` };
  const account = async () => {
    const store = await openSqlite(database, { migrate: false });
    try {
      return await store.accounts.byUsername("i.nurse");
    } finally {
      await store.close();
    }
  };
  return { database, account, run: (words: string[], password = "") => call(words, environment, password) };
}

describe("an account", () => {
  it("is made for some units, with a password that stands nowhere as it is", async () => {
    const { database, account, run } = await opened();
    const { code, stdout, stderr } = await run([...CREATE, "--unit", "east", "--unit", "west"], PASSWORD);
    expect([code, stderr]).toEqual([0, ""]);
    expect(stdout.split("\n")).toEqual([
      "There is no unit east yet.",
      "There is no unit west yet.",
      "i.nurse can sign in (nurse, east, west).",
    ]);
    const made = await account();
    expect(made).toMatchObject({ role: "nurse", units: ["east", "west"], active: true });
    expect(await isPassword(PASSWORD, made!.password)).toBe(true);
    expect((await readFile(database)).includes(PASSWORD)).toBe(false);
  });

  it("is listed, closed, opened again and given another password", async () => {
    const { account, run } = await opened();
    await run(CREATE, PASSWORD);
    expect((await run(["account", "disable", "i.nurse"])).stdout).toBe("i.nurse can sign in no more.");
    expect((await run(["account", "list"])).stdout).toBe(
      "i.nurse  nurse  every unit  closed  Imaginary Nurse",
    );
    expect((await account())?.active).toBe(false);
    await run(["account", "enable", "I.NURSE"]);
    expect((await account())?.active).toBe(true);
    await run(["account", "password", "i.nurse"], "another password entirely");
    expect(await isPassword("another password entirely", (await account())!.password)).toBe(true);
  });

  it.each([
    ["a short password", CREATE, "elevenchars", 1, "12 to 200 characters"],
    ["a name with blanks", CREATE.with(3, "i nurse"), PASSWORD, 1, "username"],
    ["a role of programs", CREATE.with(-1, "device"), PASSWORD, 2, "nurse, charge-nurse, administrator"],
  ])("is not made with %s", async (_, words, password, code, reason) => {
    const { run } = await opened();
    const answer = await run(words, password);
    expect([answer.code, answer.stderr]).toEqual([code, expect.stringContaining(reason)]);
    expect(answer.stderr).not.toContain(password);
  });

  it("is made once, and changed only if it is there", async () => {
    const { run } = await opened();
    await run(CREATE, PASSWORD);
    expect((await run(CREATE, PASSWORD)).stderr).toContain("already");
    for (const command of ["disable", "enable", "password"]) {
      expect(await run(["account", command, "nobody"], PASSWORD)).toMatchObject({
        code: 1,
        stderr: "there is no account nobody",
      });
    }
  });
});

describe("a password that is read", () => {
  const typed = (text: string, isTTY: boolean) => {
    const input = Object.assign(new PassThrough(), { isTTY }) as unknown as NodeJS.ReadStream;
    input.push(text);
    input.push(null);
    return input;
  };

  it("is the first line of standard input, blanks and all", async () => {
    expect(await passwordFrom(typed(" two words \nmore\n", false), true, () => {})).toBe(" two words ");
    expect(await passwordFrom(typed("without an end", false), true, () => {})).toBe("without an end");
  });

  it("is asked for where nothing comes", async () => {
    await expect(passwordFrom(typed("", false), false, () => {})).rejects.toThrow("no password was given");
  });
});
