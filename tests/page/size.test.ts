/** How much script the first load takes: a tablet on a ward's network waits for all of it. */

import { readdirSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { expect, it } from "vitest";

const ASSETS = new URL("../../dist/page/assets/", import.meta.url);
/** Bytes, compressed. */
const MOST = 300_000;

it("loads less than 300 kB of script", () => {
  const scripts = readdirSync(ASSETS).filter((name) => name.endsWith(".js"));
  const size = scripts.reduce((sum, name) => sum + gzipSync(readFileSync(new URL(name, ASSETS))).length, 0);
  console.log(`script of the page: ${Math.round(size / 1000)} kB compressed`);
  expect(scripts.length).toBeGreaterThan(0);
  expect(size).toBeLessThan(MOST);
});
