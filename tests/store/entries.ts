/** Entries of two beds, and what the store's tests ask of and write to a ledger. */

import {
  type Answers,
  type Ask,
  ask,
  type Chain,
  type Row,
  type Store,
  type Write,
} from "../../src/store/store.js";
import { instant } from "../../src/time/instant.js";

export const BED_4: Chain = "encounter/bed-4";
export const BED_5: Chain = "encounter/bed-5";

/** An entry of a stay; its times are minutes of one night, counted from its midnight. */
export function entry(chain: Chain, sequence: number, rest: Partial<Row> & { minute?: number } = {}): Row {
  const { minute = sequence, ...given } = rest;
  return {
    chain,
    sequence,
    id: `entry-${sequence}`,
    kind: "rate-changed",
    at: minutes(minute),
    root: null,
    declares: null,
    recordedAt: minutes(sequence),
    text: `{"sequence":${sequence}}`,
    digest: sequence.toString(16).padStart(64, "0"),
    ...given,
  };
}

export function minutes(count: number) {
  return instant(count * 60_000);
}

export function rows(...recorded: readonly Row[]): Write[] {
  return recorded.map((row) => ({ write: "row", row }));
}

/** Writes what is given in one decision, and answers what it is asked to. */
export function write<T = undefined>(store: Store, writes: readonly Write[], answer?: T) {
  // biome-ignore lint/correctness/useYield: an inquiry that has nothing to ask
  return store.transact(function* () {
    return { writes, answer };
  });
}

/** Records one more entry in a chain, whatever its head. */
export function appendTo(store: Store, chain: Chain, rest: Partial<Row> = {}) {
  return store.transact(function* () {
    const head = yield* ask({ ask: "head", chain });
    const row = entry(chain, head.sequence + 1, rest);
    return { writes: rows(row), answer: row.sequence };
  });
}

/** Asks one question of a store. */
export function answer<A extends Ask>(store: Store, question: A): Promise<Answers[A["ask"]]> {
  return store.read(() => ask(question));
}

export function sequences(found: readonly Row[]): number[] {
  return found.map((row) => row.sequence);
}
