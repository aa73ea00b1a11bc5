/** How much script the first load takes: a tablet on a ward's network waits for all of it. */

import { readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { expect, it } from "vitest";

const PAGE = new URL("../../dist/page/", import.meta.url);
/** Bytes, compressed. */
const MOST = 300_000;

const read = (name: string) => readFileSync(new URL(name, PAGE), "utf8");

/** What the document loads at once: its scripts and whatever they import without being asked to. */
function firstLoad(): Set<string> {
  const waiting = [...read("index.html").matchAll(/(?:src|href)="\/(assets\/[^"]+\.js)"/g)].map(
    (one) => one[1]!,
  );
  const loaded = new Set<string>();
  for (let name = waiting.pop(); name !== undefined; name = waiting.pop()) {
    if (loaded.has(name)) continue;
    loaded.add(name);
    const imported = read(name).matchAll(/(?:\bfrom|\bimport)\s*"\.\/([^"]+\.js)"/g);
    for (const [, file] of imported) waiting.push(`assets/${file}`);
  }
  return loaded;
}

it("loads less than 300 kB of script", () => {
  const scripts = [...firstLoad()];
  const size = scripts.reduce((sum, name) => sum + gzipSync(read(name)).length, 0);
  console.log(`script of the first load: ${Math.round(size / 1000)} kB compressed`);
  expect(scripts.length).toBeGreaterThan(0);
  expect(size).toBeLessThan(MOST);
});

it("leaves what makes PDFs until somebody wants one", () => {
  const scripts = [...firstLoad()].map(read);
  expect(scripts.filter((script) => script.includes("pageBreakBefore"))).toEqual([]);
});
