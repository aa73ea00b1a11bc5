/**
 * A bundle: one encounter for somebody who has nothing else of this ledger. It holds whom the stay is of and
 * every entry of its chain as it was hashed, settings and signed figures among them; so its figures can be
 * computed from it alone, and anybody with RFC 8785 and SHA-256 can verify it.
 */

import { ask, type Chain, type Inquiry, type Row, type Store } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { BundleHead } from "../wire/bundle.js";
import { readInstant } from "../wire/instant.js";
import { parse } from "../wire/parse.js";
import { repeatedName } from "../wire/repeated.js";
import { coordinates, written } from "./coordinates.js";
import { declaredBy } from "./declarations.js";
import { encounterText } from "./encounters.js";
import { held, ToldByChain, type ToldOfStay } from "./held-to-chain.js";
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
  const salt = stay?.patientSalt ?? null;
  const encounterOf = { ...whose, ...(salt === null ? {} : { patientSalt: salt }) };
  const { asOf } = written(resolved.done);
  return done({ upTo: asOf.sequence, head: { form: BUNDLE_FORM, caution, asOf, encounter: encounterOf } });
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
  readonly head: BundleHead;
  readonly entries: readonly { readonly digest: string; readonly recorded: unknown }[];
}

/**
 * Verifies the text of a bundle as a database is verified: every entry is hashed again and held to the
 * one before it, the last must be the one the bundle says it ends with, and its head must say what they say. Throws
 * NoBundle for what is none. Not held to anything are the bed, the caution and the version of the calculation.
 */
export function verifyBundle(text: string, digest?: string): Verdict {
  const { head, entries } = readBundle(text);
  const { asOf, encounter } = head;
  const chain: Chain = `encounter/${encounter.id}`;
  const rows = [...rowsOf(chain, entries)];
  const verdict = verify(rows, digest);
  if (!verdict.sound) return verdict;
  const broken = (sequence: number, why: string): Verdict => ({ sound: false, chain, sequence, why });
  const last = rows.at(-1)!;
  if (entries.length !== asOf.sequence || last.digest !== asOf.digest) {
    return broken(
      entries.length,
      `the bundle says that it ends with entry ${asOf.sequence}, and it does not`,
    );
  }
  if (readInstant(asOf.recordedAt) !== last.recordedAt) {
    return broken(last.sequence, "the bundle has another time of recording than it");
  }
  const told = new ToldByChain();
  for (const row of rows) told.add(row);
  const holding = held(told, toldBy(encounter), "the bundle");
  if (!holding.agrees) return broken(holding.sequence, holding.why);
  return { ...verdict, unheld: holding.patient ? 0 : 1 };
}

function toldBy({ unit, patient, patientSalt, ...stay }: BundleHead["encounter"]): ToldOfStay {
  return {
    unit,
    patientIdentifier: patient.identifier,
    patientName: patient.name ?? null,
    patientSalt: patientSalt ?? null,
    admittedAt: readInstant(stay.admittedAt),
    dischargedAt: stay.dischargedAt === undefined ? null : readInstant(stay.dischargedAt),
    admissionWeight: stay.admissionWeight ?? null,
  };
}

function readBundle(text: string): Read {
  const { entries, ...rest } = objectIn(text);
  if (!("form" in rest)) throw new NoBundle("it has no form");
  if (rest.form !== BUNDLE_FORM) {
    throw new NoBundle(`its form is ${JSON.stringify(rest.form)}, and only ${BUNDLE_FORM} is known here`);
  }
  const { value: head, faults } = parse(BundleHead, rest);
  if (head === undefined)
    throw new NoBundle(faults.map(({ pointer, detail }) => `${pointer}: ${detail}`).join(" "));
  if (!Array.isArray(entries) || entries.length === 0) throw new NoBundle("it has no entries");
  return { head, entries };
}

function objectIn(text: string): Record<string, unknown> {
  let read: unknown;
  try {
    read = JSON.parse(text);
  } catch {
    throw new NoBundle("it is not JSON");
  }
  if (typeof read !== "object" || read === null) throw new NoBundle("it has no form");
  const repeated = repeatedName(text);
  if (repeated !== undefined) throw new NoBundle(`the member ${repeated} stands twice in one object`);
  return read as Record<string, unknown>;
}

/** The rows a database would hold; one that cannot be read is left for verification to name by its place. */
export function* rowsOf(chain: Chain, entries: Read["entries"]): Generator<Row> {
  for (const [place, entry] of entries.entries()) yield rowOf(chain, place + 1, entry);
}

function rowOf(chain: Chain, place: number, entry: Read["entries"][number] | null): Row {
  const digest = String(entry?.digest);
  try {
    const text = canonical(entry?.recorded);
    const [own] = Object.keys(entry!).filter((name) => name !== "digest" && name !== "recorded");
    if (own !== undefined) throw new TypeError("it has a member that is not hashed");
    const { body, id, recordedAt, root = null, sequence } = recordedFrom(text);
    const [at, declares] = [happenedAt(body), declaredBy(body)?.key ?? null];
    return { chain, sequence, id, kind: body.kind, at, root, declares, recordedAt, text, digest };
  } catch {
    const nothing = { at: null, declares: null, id: "", kind: "", recordedAt: 0 as Instant, root: null };
    // Its digest is right, so that what is wrong with it is said: it cannot be read.
    return { ...nothing, chain, sequence: place, text: "", digest: digestOf("") };
  }
}
