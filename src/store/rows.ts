/**
 * The table `entry`: the rows of every chain. Rows are added and read; there is no function here
 * that changes or removes one, and the database's own triggers would refuse it.
 *
 * Row questions answer with whole families in two steps: an index finds the originals (of the rows
 * found, or of those their corrections hang on), then the originals and all their corrections are
 * read. Only families of what was found are touched, however long the chain.
 */

import type { Database } from "better-sqlite3";
import { sql } from "kysely";
import type { Answering, AskOf } from "./conversation.js";
import { build, prepared, query } from "./query.js";
import type { Chain, Head, Row } from "./store.js";

/** Later than any sequence: the bound of the asks that are not cut. */
const UNCUT = Number.MAX_SAFE_INTEGER;
const ROWS_PER_PAGE = 500;

const columns = [
  "chain",
  "sequence",
  "id",
  "kind",
  "at",
  "touches",
  "root",
  "declares",
  "channel",
  "recorded_at as recordedAt",
  "text",
  "digest",
] as const;

const whole = build.selectFrom("entry").select(columns);
/** Plucked when prepared: each finds bare sequences. */
const originals = build
  .selectFrom("entry")
  .select(build.fn.coalesce("root", "sequence").as("original"))
  .$castTo<number>();
const one = sql.lit(1);

export const rowQueries = {
  add: query<Row>()((given) =>
    build.insertInto("entry").values({
      chain: given("chain"),
      sequence: given("sequence"),
      id: given("id"),
      kind: given("kind"),
      at: given("at"),
      touches: given("touches"),
      root: given("root"),
      declares: given("declares"),
      channel: given("channel"),
      recorded_at: given("recordedAt"),
      text: given("text"),
      digest: given("digest"),
    }),
  ),
  last: query<{ chain: Chain }>()((given) =>
    build
      .selectFrom("entry")
      .select(["sequence", "recorded_at as recordedAt", "digest"])
      .where("chain", "=", given("chain"))
      .orderBy("sequence", "desc")
      .limit(one),
  ),
  page: query<AskOf<"page">>()((given) =>
    whole
      .where("chain", "=", given("chain"))
      .where("sequence", ">", given("after"))
      .where("sequence", "<=", given("upTo"))
      .orderBy("sequence")
      .limit(given("limit")),
  ),
  recordedBy: query<AskOf<"recorded-by">>()((given) =>
    whole
      .where("chain", "=", given("chain"))
      .where("recorded_at", "<=", given("at"))
      .orderBy("recorded_at", "desc")
      .orderBy("sequence", "desc")
      .limit(one),
  ),
  everyAfter: query<{ chain: string; sequence: number; limit: number }>()((given) =>
    whole
      .where(sql<boolean>`(chain, sequence) > (${given("chain")}, ${given("sequence")})`)
      .orderBy("chain")
      .orderBy("sequence")
      .limit(given("limit")),
  ),
  family: query<{ chain: Chain; originals: string; upTo: number }>()((given) => {
    const wanted = sql<number>`select value from json_each(${given("originals")})`;
    const corrections = build
      .selectFrom("entry")
      .select("sequence")
      .where("chain", "=", given("chain"))
      .where("root", "in", sql<number>`(${wanted})`)
      .where("sequence", "<=", given("upTo"));
    return whole
      .where("chain", "=", given("chain"))
      .where("sequence", "in", sql<number>`(${wanted} union all ${corrections})`)
      .orderBy("sequence");
  }),
};

/** Finds the originals of the families an ask is about. */
export const originalQueries = {
  withId: query<{ chain: Chain; id: string }>()((given) =>
    originals.where("chain", "=", given("chain")).where("id", "=", given("id")),
  ),
  declaring: query<{ chain: Chain; key: string }>()((given) =>
    originals.where("chain", "=", given("chain")).where("declares", "=", given("key")),
  ),
  inSpan: query<AskOf<"span">>()((given) =>
    originals
      .where("chain", "=", given("chain"))
      .where("at", ">=", given("from"))
      .where("at", "<", given("to"))
      .where("sequence", "<=", given("upTo")),
  ),
  nextOnChannel: query<AskOf<"next-on-channel">>()((given) =>
    originals
      .where("chain", "=", given("chain"))
      .where("channel", "=", given("channel"))
      .where("at", ">=", given("from"))
      .where("at", "<", given("to"))
      .where("sequence", "<=", given("upTo"))
      .orderBy("at")
      .orderBy("sequence")
      .limit(given("limit")),
  ),
  ofKind: query<{ chain: Chain; kind: string; upTo: number }>()((given) =>
    originals
      .where("chain", "=", given("chain"))
      .where("kind", "=", given("kind"))
      .where("sequence", "<=", given("upTo")),
  ),
};

export interface Rows {
  readonly answering: Answering<
    "ids" | "declares" | "span" | "next-on-channel" | "kinds" | "page" | "recorded-by"
  >;
  add(row: Row): void;
  /** The last row of a chain, if it has one. */
  last(chain: Chain): Omit<Head, "memory"> | undefined;
  /** Every row in order of chain and sequence, a page at a time: rows may be added meanwhile. */
  every(): Generator<Row>;
}

export function rowsOf(handle: Database): Rows {
  const rows = prepared(handle, rowQueries);
  const found = prepared(handle, originalQueries);
  for (const statement of Object.values(found)) statement.pluck();

  /** The families of the originals given (repeats are read once), cut at `upTo`, in order of sequence. */
  const families = (chain: Chain, originals: readonly number[], upTo: number): Row[] =>
    originals.length === 0 ? [] : rows.family.all({ chain, originals: JSON.stringify(originals), upTo });

  function* every(): Generator<Row> {
    let last: { chain: string; sequence: number } = { chain: "", sequence: 0 };
    for (;;) {
      const page = rows.everyAfter.all({ ...last, limit: ROWS_PER_PAGE });
      yield* page;
      const end = page.at(-1);
      if (end === undefined) return;
      last = { chain: end.chain, sequence: end.sequence };
    }
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
      "next-on-channel": (ask) => families(ask.chain, found.nextOnChannel.all(ask), ask.upTo),
      kinds: ({ chain, kinds, upTo }) =>
        families(
          chain,
          kinds.flatMap((kind) => found.ofKind.all({ chain, kind, upTo })),
          upTo,
        ),
      page: (ask) => rows.page.all(ask),
      "recorded-by": (ask) => rows.recordedBy.get(ask),
    },
    add: (row) => {
      rows.add.run(row);
    },
    last: (chain) => rows.last.get({ chain }),
    every,
  };
}
