/** Somebody with the database's file in their hands, who takes its guards away and puts them back. */

import SqliteDatabase, { type Database } from "better-sqlite3";

/** Opens a database past the ledger and closes it again. */
export function past<T>(path: string, act: (handle: Database) => T): T {
  const handle = new SqliteDatabase(path);
  try {
    return act(handle);
  } finally {
    handle.close();
  }
}

/** Does something to a database that its triggers would refuse, and leaves it looking untouched. */
export function tamper(path: string, act: (handle: Database) => void): void {
  past(path, (handle) => {
    handle.pragma("foreign_keys = OFF");
    const triggers = handle
      .prepare<[], { name: string; sql: string }>(
        "select name, sql from sqlite_schema where type = 'trigger' order by rowid",
      )
      .all();
    for (const { name } of triggers) handle.exec(`drop trigger ${name}`);
    act(handle);
    for (const { sql } of triggers) handle.exec(sql);
  });
}

const PLACE = "chain = (select number from chain where name = ?) and sequence = ?";

/** Flips the last bit of the byte in the middle of an entry's text. */
export function flipByte(path: string, chain: string, sequence: number): void {
  tamper(path, (handle) => {
    const text = handle
      .prepare<[string, number], string>(`select text from entry where ${PLACE}`)
      .pluck()
      .get(chain, sequence);
    const bytes = Buffer.from(text ?? "");
    const middle = Math.floor(bytes.length / 2);
    bytes.writeUInt8(bytes.readUInt8(middle) ^ 1, middle);
    handle.prepare(`update entry set text = ? where ${PLACE}`).run(bytes.toString(), chain, sequence);
  });
}

/** Deletes the last entry of a chain; returns the digest it had. */
export function cutTail(path: string, chain: string): string {
  let digest = "";
  tamper(path, (handle) => {
    const last = handle
      .prepare<[string], { place: number; digest: string }>(
        `select place, digest from entry where chain = (select number from chain where name = ?)
         order by sequence desc limit 1`,
      )
      .get(chain);
    digest = last?.digest ?? "";
    handle.prepare("delete from entry where place = ?").run(last?.place);
  });
  return digest;
}
