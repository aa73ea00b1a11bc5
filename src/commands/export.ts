/** One encounter written into a file of its own, which `verify --bundle` accepts. */

import { open } from "node:fs/promises";
import { pipeline } from "node:stream/promises";
import type { Config } from "../config.js";
import { bundle } from "../ledger/bundle.js";
import { CAUTION } from "../rest/caution.js";
import { openSqlite } from "../store/sqlite.js";
import { instant } from "../time/instant.js";
import { OWNER_ONLY, refusalOf } from "./files.js";
import { CommandRefused, type Print } from "./refused.js";

/** Throws CommandRefused where there is no such encounter, or such a file already. */
export async function exportEncounter(
  config: Config,
  encounter: string,
  file: string,
  print: Print,
): Promise<void> {
  const store = await openSqlite(config.database, { migrate: false });
  try {
    const made = await bundle(store, encounter, {}, CAUTION, instant(Date.now()));
    if (made.refused) throw new CommandRefused(`there is no encounter ${JSON.stringify(encounter)}`);
    // It names a patient: nobody else may read it, and nothing that is there is written over.
    const handle = await open(file, "wx", OWNER_ONLY).catch((error: unknown) => {
      throw refusalOf(file, error);
    });
    await pipeline(made.done, handle.createWriteStream({ flush: true }));
    print(`${encounter} is exported to ${file}`);
  } finally {
    await store.close();
  }
}
