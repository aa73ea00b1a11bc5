/** Tokens from the command line. */

import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { hashOf, newToken } from "../../src/access/token.js";
import { tokenCreate, tokenList } from "../../src/commands/token.js";
import type { Config } from "../../src/config.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { call, lines, newDatabase } from "./program.js";

async function created(config: Config, units: readonly string[] | null = null) {
  const { printed, print } = lines();
  await tokenCreate(config, { role: "nurse", name: "Imaginary Nurse", units }, print);
  return { printed, secret: printed.at(-1) ?? "" };
}

async function recordOf(config: Config, secret: string) {
  const store = await openSqlite(config.database, { migrate: false });
  try {
    return await store.tokenByHash(hashOf(secret));
  } finally {
    await store.close();
  }
}

describe("a token", () => {
  it("has 256 random bits and a prefix of our own", () => {
    // 32 bytes are 43 digits of base64 without its padding.
    expect(newToken().secret).toMatch(/^infledger_[A-Za-z0-9_-]{43}$/);
    expect(newToken().secret).not.toBe(newToken().secret);
  });

  it("is kept as the SHA-256 of all of it", () => {
    // From `printf infledger_ | sha256sum`.
    expect(hashOf("infledger_")).toBe("fc5ef5747216e928ca982f011a507841957d1a15cd4b960431b0708c5b308ecd");
    const { secret, hash } = newToken();
    expect(hash).toBe(hashOf(secret));
  });

  it("stands alone on the last line, and lets in whom it was made for", async () => {
    const config = await newDatabase();
    const { secret } = await created(config);
    expect(await recordOf(config, secret)).toMatchObject({
      role: "nurse",
      name: "Imaginary Nurse",
      units: null,
    });
  });

  it("may be for one unit, and says when there is none of that name", async () => {
    const config = await newDatabase();
    const { secret, printed } = await created(config, ["east-4"]);
    expect(printed).toContain("There is no unit east-4 yet.");
    expect(await recordOf(config, secret)).toMatchObject({ units: ["east-4"] });
  });

  it("is shown once: neither the database nor the list has it", async () => {
    const config = await newDatabase();
    const { secret } = await created(config);
    expect((await readFile(config.database)).includes(secret)).toBe(false);
    const { printed, print } = lines();
    await tokenList(config, print);
    expect(printed).toHaveLength(1);
    expect(printed[0]).toMatch(
      /^[0-9a-f-]{36} {2}\S+Z {2}nurse {2}every unit {2}does not expire {2}Imaginary Nurse$/,
    );
  });

  it("is made by the program, and printed on its last line", async () => {
    const config = await newDatabase();
    const words = ["token", "create", "--role", "charge-nurse", "--name", "Imaginary Charge Nurse"];
    const { code, stdout, stderr } = await call(words, { DATABASE_URL: `file:${config.database}` });
    expect([code, stderr]).toEqual([0, ""]);
    const secret = stdout.trimEnd().split("\n").at(-1) ?? "";
    expect(await recordOf(config, secret)).toMatchObject({ role: "charge-nurse" });
  });

  it("may be for several units, and expire", async () => {
    const config = await newDatabase();
    const words = ["token", "create", "--role", "nurse", "--name", "N", "--unit", "a", "--unit", "b"];
    const environment = { DATABASE_URL: `file:${config.database}` };
    const { stdout } = await call([...words, "--expires", "P90D"], environment);
    const record = await recordOf(config, stdout.trimEnd().split("\n").at(-1) ?? "");
    expect(record?.units).toEqual(["a", "b"]);
    const days = (record!.expiresAt! - record!.createdAt) / 86_400_000;
    expect(days).toBeCloseTo(90, 3);
    const until = await call([...words, "--expires", "2126-03-04T10:00:00-06:00"], environment);
    expect(until.stdout).toContain("(nurse, units a, b, until 2126-03-04T16:00:00.000Z)");
    const past = await call([...words, "--expires", "2020-03-04T10:00:00-06:00"], environment);
    expect([past.code, past.stderr]).toEqual([1, expect.stringContaining("lies in the past")]);
    expect((await call([...words, "--expires", "soon"], environment)).code).toBe(2);
  });

  it("is taken away by its id, which the list shows, and says so from then on", async () => {
    const config = await newDatabase();
    const { secret } = await created(config);
    const { id } = (await recordOf(config, secret))!;
    const environment = { DATABASE_URL: `file:${config.database}` };
    expect((await call(["token", "revoke", id], environment)).stdout).toContain("lets nobody in any more");
    expect((await recordOf(config, secret))?.revokedAt).toEqual(expect.any(Number));
    expect((await call(["token", "list"], environment)).stdout).toMatch(
      new RegExp(`^${id} .* revoked \\S+Z  `),
    );
    const again = await call(["token", "revoke", id], environment);
    expect([again.code, again.stderr]).toEqual([1, expect.stringContaining(`no token ${id}`)]);
  });

  it.each([
    ["an unknown role", ["--role", "surgeon", "--name", "Nobody"], "surgeon"],
    ["a blank name", ["--role", "nurse", "--name", " "], "not blank"],
    ["no name", ["--role", "nurse"], "--name"],
    ["a unit that no unit can be called", ["--role", "nurse", "--name", "N", "--unit", "a b"], "letters"],
  ])("is not made for %s", async (_, words, reason) => {
    const config = await newDatabase();
    const { code, stdout, stderr } = await call(["token", "create", ...words], {
      DATABASE_URL: `file:${config.database}`,
    });
    expect([code, stdout]).toEqual([2, ""]);
    expect(stderr).toContain(reason);
  });
});
