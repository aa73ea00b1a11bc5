/** Programs that are killed in the middle of their work, and programs that start at the same moment. */

import { spawn } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";
import { expect, onTestFinished, test } from "vitest";
import { openSqlite } from "../../src/store/sqlite.js";
import { sequences } from "./entries.js";
import { ledgerPath } from "./ledger-file.js";

const CHARTING = fileURLToPath(new URL("charting-until-killed.ts", import.meta.url));

/** Charts in a ledger until some entries are acknowledged, then kills; returns the last acknowledged. */
async function chartAndKill(path: string, acknowledgements: number): Promise<number> {
  const child = spawn(process.execPath, ["--import", "tsx", CHARTING, path], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  onTestFinished(() => {
    child.kill("SIGKILL");
  });
  let printed = "";
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    printed += text;
    if (printed.split("\n").length > acknowledgements) child.kill("SIGKILL");
  });
  const [, signal] = await once(child, "close");
  expect(signal).toBe("SIGKILL");
  // The last line may have been cut by the kill.
  return Math.max(...printed.split("\n").slice(0, -1).map(Number));
}

test("every acknowledged entry is there, without a gap, after each of three kills", async () => {
  const path = ledgerPath();
  for (let kill = 0; kill < 3; kill += 1) {
    const acknowledged = await chartAndKill(path, 1 + Math.floor(Math.random() * 400));
    const store = await openSqlite(path, { migrate: false });
    const found = sequences([...store.everyRow()]);
    await store.close();
    expect(found.length).toBeGreaterThanOrEqual(acknowledged);
    expect(found).toEqual(found.map((_, index) => index + 1));
  }
});

test("of two programs that start at once on a new file both record in it", async () => {
  const path = ledgerPath();
  const acknowledged = await Promise.all([chartAndKill(path, 1), chartAndKill(path, 1)]);
  const store = await openSqlite(path, { migrate: false });
  const found = sequences([...store.everyRow()]);
  await store.close();
  expect(found).toEqual(found.map((_, index) => index + 1));
  expect(found.length).toBeGreaterThanOrEqual(Math.max(...acknowledged));
  expect(acknowledged[0]).not.toBe(acknowledged[1]);
});
