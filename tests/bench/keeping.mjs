/** What 30,000 entries cost to keep and to start on: the file, the checkpoints, a server's start. */

import { statSync } from "node:fs";
import { join } from "node:path";
import SqliteDatabase from "better-sqlite3";
import { BenchLedger } from "./ledgers.mjs";
import { inTurns, median } from "./measuring.mjs";
import { started } from "./server.mjs";
import { DAYS, ENDS, LONG } from "./stays.mjs";

/** @param {{ quick: boolean, copy: () => string, directory: string }} asked */
export async function keeping({ quick, copy, directory }) {
  const path = copy();
  const empty = join(directory, "empty.db");
  await (await BenchLedger.open(empty, ENDS)).close();
  const start = (path) => async () => (await started({ kind: "ledger", path, standsAt: ENDS })).stop();
  const times = await inTurns({ full: start(path), empty: start(empty) }, { rounds: quick ? 1 : 7 });
  const { first, last, count, rows } = sizes(path);
  const kilobytes = (bytes) => `${(bytes / 1_000).toFixed(1)} kB`;
  const [full, none] = [median(times.full), median(times.empty)];
  return [
    {
      what: `checkpoint on day ${DAYS}`,
      measured: `${kilobytes(last)} (the first ${kilobytes(first)}, ${count} in all)`,
      bound: "",
      holds: null,
    },
    {
      what: "database, per entry",
      measured: `${kilobytes(statSync(path).size / rows)} (${rows} entries)`,
      bound: "",
      holds: null,
    },
    {
      what: "server started and stopped on it, against an empty one",
      measured: `${(full / none).toFixed(2)} × (${full.toFixed(0)} ms, ${none.toFixed(0)} ms)`,
      bound: "",
      holds: null,
    },
  ];
}

function sizes(path) {
  const database = new SqliteDatabase(path, { readonly: true });
  const texts = database
    .prepare("select length(text) from checkpoint where chain = ? and valid_to is null order by at")
    .pluck()
    .all(`encounter/${LONG}`);
  const rows = database.prepare("select count(*) from entry").pluck().get();
  database.close();
  return { first: texts[0], last: texts.at(-1), count: texts.length, rows };
}
