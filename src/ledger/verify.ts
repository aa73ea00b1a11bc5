/**
 * Verification: every chain from its first row, each text hashed again and held to its columns and to
 * the digest before it. It stops at the first row that is not what it was when it was recorded. Then the
 * directory is held to the chains: it has the same stays as they, and says of them what they say.
 */

import type { Row, Stay } from "../store/store.js";
import { declaredBy } from "./declarations.js";
import { held, ToldByChain } from "./held-to-chain.js";
import { canonical, digestOf, type Recorded, recordedFrom } from "./record.js";
import { happenedAt } from "./sense.js";

export type Verdict =
  | {
      readonly sound: true;
      readonly encounters: number;
      readonly entries: number;
      /** Of how many encounters the patient is held to no entry: all, where no directory was given. */
      readonly unheld: number;
    }
  | { readonly sound: false; readonly chain: string; readonly sequence: number; readonly why: string };

/**
 * Reads rows in order of chain and sequence, and the directory as of the same moment. `head`, a digest that was
 * given out once, must be that of some row: so a tail that was cut off is noticed too.
 */
export function verify(rows: Iterable<Row>, head?: string, stays?: readonly Stay[]): Verdict {
  const chains = new Map<string, ToldByChain>();
  let entries = 0;
  let headSeen = head === undefined;
  let before: Row | undefined;
  for (const row of rows) {
    const first = before?.chain !== row.chain;
    const fault = faultOf(row, first ? undefined : before);
    if (fault !== undefined) return { sound: false, ...fault };
    if (first && row.chain.startsWith("encounter/")) chains.set(row.chain, new ToldByChain());
    chains.get(row.chain)?.add(row);
    if (row.digest === head) headSeen = true;
    entries++;
    before = row;
  }
  const directory = stays === undefined ? { unheld: chains.size } : directoryHeld(chains, stays);
  if ("why" in directory) return { sound: false, ...directory };
  if (headSeen) return { sound: true, encounters: chains.size, entries, ...directory };
  return {
    sound: false,
    chain: "",
    sequence: 0,
    why: `no entry has the digest ${head}: the end of a chain is missing`,
  };
}

/** The first stay of which the directory and the chains differ; else of how many the patient is not held. */
function directoryHeld(
  chains: ReadonlyMap<string, ToldByChain>,
  stays: readonly Stay[],
): Broken | { readonly unheld: number } {
  let unheld = 0;
  const missing = new Set(chains.keys());
  for (const stay of stays) {
    const chain = `encounter/${stay.encounter}`;
    missing.delete(chain);
    const told = chains.get(chain);
    if (told === undefined) {
      return { chain, sequence: 1, why: "the directory has the stay, of which no entry is there" };
    }
    const holding = held(told, stay, "the directory");
    if (!holding.agrees) return { chain, sequence: holding.sequence, why: holding.why };
    if (!holding.patient) unheld++;
  }
  const [chain] = missing;
  if (chain === undefined) return { unheld };
  return { chain, sequence: 1, why: "the directory does not have the stay" };
}

/** The entry that is not what it was, and why. */
interface Broken {
  readonly chain: string;
  readonly sequence: number;
  readonly why: string;
}

/**
 * A text whose digest is right says itself where it belongs, so a row that was moved is named by the place it
 * came from, and what is missing by the place where it is missed.
 */
function faultOf(row: Row, before: Row | undefined): Broken | undefined {
  const { chain, sequence } = row;
  const here = (why: string): Broken => ({ chain, sequence, why });
  if (digestOf(row.text) !== row.digest) return here("its text is not the one its digest was made of");
  let recorded: Recorded;
  try {
    recorded = recordedFrom(row.text);
    if (canonical(JSON.parse(row.text)) !== row.text) return here("its text is not canonical");
  } catch {
    return here("its text cannot be read");
  }
  if (recorded.chain !== chain || recorded.sequence !== sequence) {
    const why = `it stands at ${chain.replace("/", " ")}, entry ${sequence}`;
    return { chain: recorded.chain, sequence: recorded.sequence, why };
  }
  const expected = (before?.sequence ?? 0) + 1;
  if (sequence !== expected) return { chain, sequence: expected, why: "it is missing" };
  if (recorded.previous !== (before?.digest ?? "")) return here("it does not follow the entry before it");
  const why = columnFault(row, recorded, before);
  return why === undefined ? undefined : here(why);
}

/** Columns are read off the text; one that says something else was changed. */
function columnFault(row: Row, recorded: Recorded, before: Row | undefined): string | undefined {
  const columns: Partial<Row> = {
    id: recorded.id,
    kind: recorded.body.kind,
    recordedAt: recorded.recordedAt,
    root: recorded.root ?? null,
    at: happenedAt(recorded.body),
    declares: declaredBy(recorded.body)?.key ?? null,
  };
  for (const [column, value] of Object.entries(columns)) {
    if (row[column as keyof Row] !== value) return `its column ${column} is not what its text says`;
  }
  const backwards = before !== undefined && row.recordedAt < before.recordedAt;
  return backwards ? "it was recorded before the entry before it" : undefined;
}
