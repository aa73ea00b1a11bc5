/** A pure reading of rows, remembered by the row's digest: the same text is read once. */

import type { Row } from "../store/store.js";

const MOST = 50_000;

export interface Remembering<T> {
  (row: Row): T;
  /** What reading a row would give, from who knows it already. */
  learn(row: Row, read: T): void;
}

/** Wraps a pure function of a row's text; what was read first is forgotten first. */
export function remembering<T>(read: (row: Row) => T): Remembering<T> {
  const known = new Map<string, T>();
  const learn = ({ digest }: Row, fresh: T): void => {
    if (known.size >= MOST) known.delete(known.keys().next().value!);
    known.set(digest, fresh);
  };
  const remembered = (row: Row): T => {
    const before = known.get(row.digest);
    if (before !== undefined) return before;
    const fresh = read(row);
    learn(row, fresh);
    return fresh;
  };
  return Object.assign(remembered, { learn });
}
