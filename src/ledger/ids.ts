/**
 * Ids made by the ledger: UUIDv7 (RFC 9562, section 5.7), which begin with the time, so that what is
 * recorded together lies together in the indexes.
 */

import { randomFillSync } from "node:crypto";
import { v7 } from "uuid";

/** Random bytes of one id. */
const BYTES = 16;
const pool = new Uint8Array(256 * BYTES);
let used = pool.length;

/** An id that was never there before. */
export function newUuid(): string {
  return v7({ random: unusedBytes() });
}

/** Random bytes are asked for in bulk: each call to the system costs as much as twenty ids. */
function unusedBytes(): Uint8Array {
  if (used === pool.length) {
    randomFillSync(pool);
    used = 0;
  }
  used += BYTES;
  return pool.subarray(used - BYTES, used);
}
