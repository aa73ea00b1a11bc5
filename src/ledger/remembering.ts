/** A pure reading of rows, remembered by the row's digest: the same text is read once. */

import type { Row } from "../store/store.js";

const MOST = 50_000;

/** Wraps a pure function of a row's text; what was read first is forgotten first. */
export function remembering<T>(read: (row: Row) => T): (row: Row) => T {
  const known = new Map<string, T>();
  return (row) => {
    const remembered = known.get(row.digest);
    if (remembered !== undefined) return remembered;
    const fresh = read(row);
    if (known.size >= MOST) known.delete(known.keys().next().value!);
    known.set(row.digest, fresh);
    return fresh;
  };
}
