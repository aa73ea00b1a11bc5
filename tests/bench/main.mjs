/**
 * Measures what the ledger promises of its speed, and of what it finds: `npm run bench`, or
 * `npm run bench -- --quick` for a minute's look. Times are medians beside a baseline of the same run; a bound
 * that does not hold is said, not failed, since the machine may be busy. Everything stays on this machine and
 * is removed.
 */

import { copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { answers } from "./answers.mjs";
import { audit } from "./audit.mjs";
import { charting } from "./charting.mjs";
import { charts } from "./charts.mjs";
import { concurrent } from "./concurrent.mjs";
import { core } from "./core.mjs";
import { detection } from "./detection.mjs";
import { keeping } from "./keeping.mjs";
import { late } from "./late.mjs";
import { machine } from "./machine.mjs";
import { recording } from "./recording.mjs";
import { fill } from "./stays.mjs";
import { table } from "./table.mjs";

const quick = process.argv.includes("--quick");
// Beside the built program rather than in the system's directory for temporary files, which may be memory.
const directory = mkdtempSync(join(fileURLToPath(new URL("../../dist/", import.meta.url)), "bench-"));
const told = join(directory, "stays.db");
let copies = 0;
const copy = () => {
  const path = join(directory, `copy-${++copies}.db`);
  copyFileSync(told, path);
  return path;
};

try {
  const begun = performance.now();
  for (const line of machine(directory)) console.log(line);
  const results = [...(await core({ quick })), ...detection({ quick }), ...charting({ quick })];
  const { entries, token } = await fill(told);
  console.log(`The long stay: ${entries} entries\n`);
  for (const bench of [charts, audit, answers, recording, late, concurrent, keeping]) {
    results.push(...(await bench({ quick, copy, token, directory })));
  }
  for (const line of table(results)) console.log(line);
  console.log(`\n${((performance.now() - begun) / 1_000).toFixed(0)} s`);
} finally {
  rmSync(directory, { recursive: true, force: true });
}
