/** Brings the database to the newest shape, making it where there is none. The service does so by itself. */

import type { Config } from "../config.js";
import { migrations } from "../store/migrate.js";
import { openSqlite } from "../store/sqlite.js";
import type { Print } from "./refused.js";

/** Throws StoreRefused for a database that is newer than the program, altered, or no ledger. */
export async function migrate(config: Config, print: Print): Promise<void> {
  const store = await openSqlite(config.database, { migrate: true });
  await store.close();
  const newest = Object.keys(migrations).sort().at(-1);
  print(`${config.database} has the newest shape, ${newest}`);
}
