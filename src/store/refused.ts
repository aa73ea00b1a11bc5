/** Why a database is not opened: the program stops with this message instead of guessing. */

/** The file is not a ledger this program can work on; the message says why and what to do. */
export class StoreRefused extends Error {
  override readonly name = "StoreRefused";
}
