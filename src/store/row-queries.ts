/**
 * The queries on the tables `chain` and `entry`. Each finds its rows by an index that begins with the
 * chain, so that none ever reads through a chain, let alone the table.
 */

import { sql } from "kysely";
import type { AskOf } from "./conversation.js";
import { build, type Given, query } from "./query.js";
import type { Chain, Row } from "./store.js";

interface InChain {
  readonly chain: Chain;
}

const one = sql.lit(1);
const zero = sql.lit(0);

/** The entries of the chain given. */
function inChain<P extends InChain>(given: Given<P>) {
  const number = build.selectFrom("chain").select("number").where("name", "=", given("chain"));
  return build.selectFrom("entry").where("chain", "=", number);
}

/** What a row is read with, besides the name of its chain. */
const COLUMNS = [
  "sequence",
  "id",
  "kind",
  "at",
  "root",
  "declares",
  "recorded_at as recordedAt",
  "text",
  "digest",
] as const;

function wholeRows<P extends InChain>(given: Given<P>) {
  return inChain(given).select([sql<Chain>`${given("chain")}`.as("chain"), ...COLUMNS]);
}

/** Plucked when prepared: finds the bare sequences of originals. */
function originals<P extends InChain>(given: Given<P>) {
  return inChain(given)
    .select((e) => e.fn.coalesce("root", "sequence").as("original"))
    .$castTo<number>();
}

export const rowQueries = {
  addChain: query<InChain>()((given) =>
    build.insertInto("chain").values((e) => ({
      number: e.selectFrom("chain").select(sql<number>`coalesce(max(number), 0) + 1`.as("next")),
      name: given("chain"),
    })),
  ),
  add: query<Row>()((given) =>
    build.insertInto("entry").values((e) => ({
      place: e.selectFrom("entry").select(sql<number>`coalesce(max(place), 0) + 1`.as("next")),
      chain: e.selectFrom("chain").select("number").where("name", "=", given("chain")),
      sequence: given("sequence"),
      id: given("id"),
      kind: given("kind"),
      at: given("at"),
      root: given("root"),
      declares: given("declares"),
      recorded_at: given("recordedAt"),
      text: given("text"),
      digest: given("digest"),
    })),
  ),
  last: query<InChain>()((given) =>
    inChain(given)
      .select(["sequence", "recorded_at as recordedAt", "digest"])
      .orderBy("sequence", "desc")
      .limit(one),
  ),
  page: query<AskOf<"page">>()((given) =>
    wholeRows(given)
      .where("sequence", ">", given("after"))
      .where("sequence", "<=", given("upTo"))
      .orderBy("sequence")
      .limit(given("limit")),
  ),
  recording: query<InChain & { sequence: number }>()((given) =>
    inChain(given).select("recorded_at as recordedAt").where("sequence", "=", given("sequence")),
  ),
  nextChain: query<{ after: string }>()((given) =>
    build
      .selectFrom("chain")
      .select("name")
      .where(sql<string>`name`, ">", given("after"))
      .orderBy("name")
      .limit(one),
  ),
  /** The originals given, as a JSON list, and their corrections up to a sequence. */
  family: query<InChain & { originals: string; upTo: number }>()((given) => {
    const wanted = build
      .selectFrom(sql<{ value: number }>`json_each(${given("originals")})`.as("original"))
      .select("original.value as sequence");
    const corrections = inChain(given)
      .select("sequence")
      .where("root", "in", wanted)
      .where("sequence", "<=", given("upTo"));
    return wholeRows(given).where("sequence", "in", wanted.unionAll(corrections)).orderBy("sequence");
  }),
};

/** The conditions of the indexes on kinds, word for word, so that they are used. */
const OF_THE_STAY = sql<boolean>`kind in ('admitted', 'moved', 'discharged', 'settings-changed')`;
const OF_ACTS = sql<boolean>`kind in ('finding-acknowledged', 'shift-signed', 'chart-posted')`;

const OF_INSTILLED = sql<boolean>`kind = 'irrigant-instilled'`;

/** Which query finds the rows of a kind. */
export const FINDING: Readonly<Record<AskOf<"kinds">["kinds"][number], "ofStay" | "ofAct" | "ofInstilled">> =
  {
    admitted: "ofStay",
    moved: "ofStay",
    discharged: "ofStay",
    "settings-changed": "ofStay",
    "finding-acknowledged": "ofAct",
    "shift-signed": "ofAct",
    "chart-posted": "ofAct",
    "irrigant-instilled": "ofInstilled",
  };

const ofKind = (condition: typeof OF_THE_STAY) =>
  query<InChain & { kind: string; upTo: number }>()((given) =>
    originals(given)
      .where("kind", "=", given("kind"))
      .where(condition)
      .where("sequence", "<=", given("upTo")),
  );

/** Find the originals of the families an ask is about. */
export const originalQueries = {
  withId: query<InChain & { id: string }>()((given) => originals(given).where("id", "=", given("id"))),
  declaring: query<InChain & { key: string }>()((given) =>
    originals(given).where("declares", "=", given("key")),
  ),
  inSpan: query<AskOf<"span">>()((given) =>
    originals(given)
      .where("at", ">=", given("from"))
      .where("at", "<", given("to"))
      .where("sequence", "<=", given("upTo")),
  ),
  segments: query<AskOf<"segments">>()((given) =>
    originals(given)
      .where(sql<boolean>`kind = 'segment-read'`)
      .where("at", ">", given("after"))
      .where("sequence", "<=", given("upTo"))
      .orderBy("at")
      .limit(given("limit")),
  ),
  signatures: query<AskOf<"signatures">>()((given) =>
    originals(given)
      .where(sql<boolean>`kind = 'shift-signed'`)
      .where("at", ">", given("after"))
      .where("at", "<=", given("before"))
      .where("sequence", "<=", given("upTo"))
      .orderBy("at"),
  ),
  ofStay: ofKind(OF_THE_STAY),
  ofAct: ofKind(OF_ACTS),
  ofInstilled: ofKind(OF_INSTILLED),
  /** Each original as often as it has corrections. */
  corrected: query<AskOf<"corrected">>()((given) =>
    originals(given).where("root", ">", zero).where("sequence", "<=", given("upTo")),
  ),
};

/** For verification, which reads everything anyway. */
export const orderQueries = {
  since: query<{ place: number; limit: number }>()((given) =>
    build
      .selectFrom("entry")
      .innerJoin("chain", "chain.number", "entry.chain")
      .select(["entry.place", sql<Chain>`chain.name`.as("chain"), "entry.sequence", "entry.kind"])
      .where("entry.place", ">", given("place"))
      .orderBy("entry.place")
      .limit(given("limit")),
  ),
  last: query<object>()(() =>
    build.selectFrom("entry").select(sql<number>`coalesce(max(place), 0)`.as("place")),
  ),
};

export const wholeFileQueries = {
  /** Rows whose chain has no name: none, unless somebody changed the file. */
  nameless: query<object>()(() =>
    build
      .selectFrom("entry")
      .where("chain", "not in", build.selectFrom("chain").select("number"))
      .select([sql<Chain>`'encounter/?'`.as("chain"), ...COLUMNS]),
  ),
};
