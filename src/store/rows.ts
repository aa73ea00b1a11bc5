/**
 * The tables `chain` and `entry`: the rows of every chain. Rows are added and read; there is no
 * function here that changes or removes one, and the database's own triggers would refuse it.
 *
 * Row questions answer with whole families in two steps: an index finds the originals (of the rows
 * found, or of those their corrections hang on), then the originals and all their corrections are
 * read. Only families of what was found are touched, however long the chain.
 */

import type { Database } from "better-sqlite3";
import type { Instant } from "../time/instant.js";
import type { Answering } from "./conversation.js";
import { prepared } from "./query.js";
import { FINDING, orderQueries, originalQueries, rowQueries, wholeFileQueries } from "./row-queries.js";
import type { Chain, Head, Row } from "./store.js";

/** Later than any sequence: the bound of the asks that are not cut. */
const UNCUT = Number.MAX_SAFE_INTEGER;
const ROWS_PER_PAGE = 500;

export interface Rows {
  readonly answering: Answering<
    | "ids"
    | "declares"
    | "span"
    | "kinds"
    | "corrected"
    | "segments"
    | "signatures"
    | "page"
    | "recorded-since"
    | "recorded-by"
  >;
  add(row: Row): void;
  /** The last row of a chain, if it has one. */
  last(chain: Chain): Omit<Head, "memory"> | undefined;
  /** Every row in order of chain and sequence, a page at a time: rows may be added meanwhile. */
  every(): Generator<Row>;
}

/** A row as the list of what its columns hold, in the order in which they are selected. */
type Columns = readonly [
  Row["chain"],
  Row["sequence"],
  Row["id"],
  Row["kind"],
  Row["at"],
  Row["root"],
  Row["declares"],
  Row["recordedAt"],
  Row["text"],
  Row["digest"],
];

/** Objects are made a third faster here than by the driver, and no answer reads so much as whole families. */
function rowOf([chain, sequence, id, kind, at, root, declares, recordedAt, text, digest]: Columns): Row {
  return { chain, sequence, id, kind, at, root, declares, recordedAt, text, digest };
}

export function rowsOf(handle: Database): Rows {
  const rows = prepared(handle, rowQueries);
  const found = prepared(handle, originalQueries);
  const whole = prepared(handle, wholeFileQueries);
  const order = prepared(handle, orderQueries);
  for (const statement of Object.values(found)) statement.pluck();
  rows.family.raw();

  /** The families of the originals given (repeats are read once), cut at `upTo`, in order of sequence. */
  const families = (chain: Chain, originals: readonly number[], upTo: number): Row[] =>
    originals.length === 0
      ? []
      : (rows.family.all({ chain, originals: JSON.stringify(originals), upTo }) as unknown as Columns[]).map(
          rowOf,
        );

  /**
   * The last sequence recorded by an instant, 0 if none was. Found by halving, since along a chain
   * the time of recording never goes back; an index on it would cost every append a page.
   */
  const recordedBy = (chain: Chain, at: Instant): number => {
    let by = 0;
    let after = (rows.last.get({ chain })?.sequence ?? 0) + 1;
    while (after - by > 1) {
      const sequence = Math.floor((by + after) / 2);
      const recording = rows.recording.get({ chain, sequence });
      if (recording !== undefined && recording.recordedAt <= at) by = sequence;
      else after = sequence;
    }
    return by;
  };

  const page = (chain: Chain, after: number, limit: number): Row[] =>
    rows.page.all({ ask: "page", chain, after, upTo: UNCUT, limit });

  function* rowsOfChain(chain: Chain): Generator<Row> {
    // A place that no append could have given is read too: somebody with the file may have made one.
    let after = -UNCUT;
    for (;;) {
      const some = page(chain, after, ROWS_PER_PAGE);
      yield* some;
      if (some.length < ROWS_PER_PAGE) return;
      after = some.at(-1)!.sequence;
    }
  }

  function* every(): Generator<Row> {
    let chain = rows.nextChain.get({ after: "" });
    while (chain !== undefined) {
      yield* rowsOfChain(chain.name);
      chain = rows.nextChain.get({ after: chain.name });
    }
    yield* whole.nameless.all({});
  }

  return {
    answering: {
      // One look-up per id: an append asks for ids that are, but for a retry, not there.
      ids: ({ chain, ids }) =>
        families(
          chain,
          ids.flatMap((id) => found.withId.get({ chain, id }) ?? []),
          UNCUT,
        ),
      declares: ({ chain, keys }) =>
        families(
          chain,
          keys.flatMap((key) => found.declaring.all({ chain, key })),
          UNCUT,
        ),
      span: (ask) => families(ask.chain, found.inSpan.all(ask), ask.upTo),
      kinds: ({ chain, kinds, upTo }) =>
        families(
          chain,
          kinds.flatMap((kind) => found[FINDING[kind]].all({ chain, kind, upTo })),
          upTo,
        ),
      corrected: (ask) => families(ask.chain, found.corrected.all(ask), ask.upTo),
      segments: (ask) => families(ask.chain, found.segments.all(ask), ask.upTo),
      signatures: (ask) => families(ask.chain, found.signatures.all(ask), ask.upTo),
      page: (ask) => rows.page.all(ask),
      "recorded-since": ({ place, limit }) => {
        if (place === null) return { place: order.last.get({})!.place, rows: [] };
        const rows = order.since.all({ place, limit });
        return { place: rows.at(-1)?.place ?? place, rows };
      },
      "recorded-by": ({ chain, at }) => {
        const sequence = recordedBy(chain, at);
        return sequence === 0 ? undefined : page(chain, sequence - 1, 1)[0];
      },
    },
    add: (row) => {
      if (row.sequence === 1) rows.addChain.run(row);
      rows.add.run(row);
    },
    last: (chain) => rows.last.get({ chain }),
    every,
  };
}
