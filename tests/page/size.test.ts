/** How much script the first load takes: a tablet on a ward's network waits for all of it. */

import { readdirSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { expect, it } from "vitest";

const PAGE = new URL("../../dist/page/", import.meta.url);
const ASSETS = new URL("assets/", PAGE);
/** Bytes, compressed. */
const MOST = 300_000;

const size = (names: Iterable<string>) =>
  [...names].reduce((sum, name) => sum + gzipSync(readFileSync(new URL(name, ASSETS))).length, 0);

/** The scripts the first page waits for: those it names, and what these import before they run. */
function firstLoad(): Set<string> {
  const found = new Set<string>();
  const follow = (name: string) => {
    if (found.has(name)) return;
    found.add(name);
    const script = readFileSync(new URL(name, ASSETS), "utf8");
    for (const [, imported] of script.matchAll(
      /(?:^|[;}])import\s*(?:[^"'()]*?from\s*)?"\.\/([\w.-]+\.js)"/g,
    )) {
      follow(imported!);
    }
  };
  const html = readFileSync(new URL("index.html", PAGE), "utf8");
  for (const [, name] of html.matchAll(/assets\/([\w.-]+\.js)"/g)) follow(name!);
  return found;
}

it("loads less than 300 kB of script before it shows anything", () => {
  const [first, all] = [firstLoad(), readdirSync(ASSETS).filter((name) => name.endsWith(".js"))];
  const kilobytes = (bytes: number) => Math.round(bytes / 1000);
  console.log(`script of the page: ${kilobytes(size(first))} of ${kilobytes(size(all))} kB compressed`);
  expect(first.size).toBeGreaterThan(0);
  // What the round and charts take is loaded when somebody goes there.
  expect(first.size).toBeLessThan(all.length);
  expect(size(first)).toBeLessThan(MOST);
});
