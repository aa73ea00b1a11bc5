/**
 * A bundle: one encounter for somebody who has nothing else of this ledger. It holds whom the stay is of and
 * every entry of its chain as it was hashed, settings and signed figures among them; so its figures can be
 * computed from it alone, and anybody with RFC 8785 and SHA-256 can verify it.
 */

import { ask, type Chain, type Inquiry, type Row, type Store } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { coordinates, written } from "./coordinates.js";
import { declaredBy } from "./declarations.js";
import { encounterText } from "./encounters.js";
import type { Asked } from "./ledger.js";
import { canonical, digestOf, recordedFrom } from "./record.js";
import { done, type Outcome, refused } from "./refusal.js";
import { happenedAt } from "./sense.js";
import { type Verdict, verify } from "./verify.js";

/** The version of the form below; it rises when a reader of the form before could not read it. */
export const BUNDLE_FORM = 1;

/** How many entries are read, and sent, at once: a long stay is never in memory as a whole. */
const AT_ONCE = 500;

/**
 * The JSON of a bundle, piece by piece. What was known is fixed before the first piece: entries that are
 * recorded while it is sent are not in it. `caution` is what its reader has to know.
 */
export async function bundle(
  store: Store,
  encounter: string,
  asked: Pick<Asked, "asOf">,
  caution: string,
  now: Instant,
): Promise<Outcome<AsyncIterable<string>>> {
  const chain: Chain = `encounter/${encounter}`;
  const begun = await store.read(() => beginning(encounter, asked, caution, now));
  if (begun.refused) return begun;
  const { head, upTo } = begun.done;
  return done(pieces(store, chain, upTo, JSON.stringify(head)));
}

/** What stands before the entries, and up to which of them the bundle goes. */
function* beginning(
  encounter: string,
  asked: Pick<Asked, "asOf">,
  caution: string,
  now: Instant,
): Inquiry<Outcome<{ readonly head: object; readonly upTo: number }>> {
  const resolved = yield* coordinates(`encounter/${encounter}`, asked, now);
  if (resolved.refused) return resolved;
  const stay = yield* ask({ ask: "stay", encounter });
  const then = asked.asOf === undefined ? undefined : resolved.done;
  const told = stay === undefined ? undefined : yield* encounterText(stay, then);
  if (told === undefined) return refused({ problem: "not-found", what: "encounter", id: encounter });
  const { ledger: _, ...whose } = told.text;
  const { asOf } = written(resolved.done);
  return done({ upTo: asOf.sequence, head: { form: BUNDLE_FORM, caution, asOf, encounter: whose } });
}

async function* pieces(store: Store, chain: Chain, upTo: number, head: string): AsyncGenerator<string> {
  yield `${head.slice(0, -1)},"entries":[`;
  for (let after = 0; after < upTo; ) {
    const rows = await store.read(() => ask({ ask: "page", chain, after, upTo, limit: AT_ONCE }));
    const texts = rows.map(({ digest, text }) => `{"digest":"${digest}","recorded":${text}}`);
    yield `${after === 0 ? "" : ","}\n${texts.join(",\n")}`;
    after = rows.at(-1)!.sequence;
  }
  yield "\n]}\n";
}

/** What is no bundle, and why. */
export class NoBundle extends Error {
  override readonly name = "NoBundle";
}

interface Read {
  readonly form: number;
  readonly asOf: { readonly sequence: number; readonly digest: string };
  readonly encounter: { readonly id: string };
  readonly entries: readonly { readonly digest: string; readonly recorded: unknown }[];
}

/**
 * Verifies the text of a bundle as a database is verified: every entry is hashed again and held to the
 * one before it, and the last must be the one the bundle says it ends with. Throws NoBundle for what is
 * none. Whom the stay is of stands in no entry and is not hashed.
 */
export function verifyBundle(text: string, head?: string): Verdict {
  const { asOf, encounter, entries } = readBundle(text);
  const chain: Chain = `encounter/${encounter.id}`;
  const verdict = verify(rowsOf(chain, entries), head);
  if (!verdict.sound) return verdict;
  const last = entries.at(-1);
  if (entries.length === asOf.sequence && last?.digest === asOf.digest) return verdict;
  const why = `the bundle says that it ends with entry ${asOf.sequence}, and it does not`;
  return { sound: false, chain, sequence: entries.length, why };
}

function readBundle(text: string): Read {
  let read: Partial<Read> | null;
  try {
    read = JSON.parse(text) as Partial<Read> | null;
  } catch {
    throw new NoBundle("it is not JSON");
  }
  if (typeof read !== "object" || read === null || !("form" in read)) throw new NoBundle("it has no form");
  if (read.form !== BUNDLE_FORM) {
    throw new NoBundle(`its form is ${JSON.stringify(read.form)}, and only ${BUNDLE_FORM} is known here`);
  }
  const { asOf, encounter, entries } = read;
  if (typeof encounter?.id !== "string") throw new NoBundle("it names no encounter");
  if (typeof asOf?.digest !== "string") throw new NoBundle("it does not say with which entry it ends");
  if (!Array.isArray(entries) || entries.length === 0) throw new NoBundle("it has no entries");
  return read as Read;
}

/** The rows a database would hold; one that cannot be read is left for verification to name by its place. */
export function* rowsOf(chain: Chain, entries: Read["entries"]): Generator<Row> {
  for (const [place, entry] of entries.entries()) yield rowOf(chain, place + 1, entry);
}

function rowOf(chain: Chain, place: number, entry: Read["entries"][number] | null): Row {
  const digest = String(entry?.digest);
  try {
    const text = canonical(entry?.recorded);
    const { body, id, recordedAt, root = null, sequence } = recordedFrom(text);
    const [at, declares] = [happenedAt(body), declaredBy(body)?.key ?? null];
    return { chain, sequence, id, kind: body.kind, at, root, declares, recordedAt, text, digest };
  } catch {
    const nothing = { at: null, declares: null, id: "", kind: "", recordedAt: 0 as Instant, root: null };
    // Its digest is right, so that what is wrong with it is said: it cannot be read.
    return { ...nothing, chain, sequence: place, text: "", digest: digestOf("") };
  }
}
