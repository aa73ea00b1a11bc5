/**
 * Signed shifts whose figures this version of the calculation would make otherwise: asked after a release that
 * raised it. The last line is for programs too: `compared N signatures, M differ`.
 */

import type { Config } from "../config.js";
import { type Compared, signedOtherwise } from "../ledger/signed-otherwise.js";
import { openSqlite } from "../store/sqlite.js";
import type { Print } from "./refused.js";

export async function signatures(config: Config, print: Print): Promise<void> {
  const store = await openSqlite(config.database, { migrate: false });
  try {
    let [compared, differ] = [0, 0];
    let next: string | null = null;
    do {
      const after: string | null = next;
      const page: Compared = await store.read(() => signedOtherwise(after));
      for (const one of page.otherwise) {
        const { encounter, shift, from, to, calculation, figures } = one;
        const many = figures === 1 ? "1 figure differs" : `${figures} figures differ`;
        print(`${encounter} ${shift} from ${from} to ${to}, signed with calculation ${calculation}: ${many}`);
      }
      compared += page.signatures;
      differ += page.otherwise.length;
      next = page.next;
    } while (next !== null);
    print(`compared ${compared} signatures, ${differ} differ`);
  } finally {
    await store.close();
  }
}
