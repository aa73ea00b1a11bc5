/**
 * Conditional requests (RFC 9110, section 13). The state of an encounter is the sequence of its last
 * entry, and its strong ETag is that number in quotes. A computed answer depends on more than that, so its
 * tag is made of all it says, and serves `If-None-Match` alone.
 */

import { createHash } from "node:crypto";
import type { Ledger } from "../ledger/ledger.js";
import { done, type Outcome, refused } from "../ledger/refusal.js";
import type { Answered } from "./route.js";

/** A sequence that no encounter ever has: the precondition that always fails. */
const NEVER = Number.POSITIVE_INFINITY;

/** An entity-tag of RFC 9110, section 8.8.3; its first group is the mark of a weak one. */
const TAG = /(W\/)?"([\x21\x23-\x7e\x80-\xff]*)"/y;

interface Tag {
  readonly weak: boolean;
  readonly text: string;
}

/** The tags of a list, `*` for any, undefined for what is no list of tags. */
function tagsOf(header: string): readonly Tag[] | "*" | undefined {
  if (header.trim() === "*") return "*";
  const tags: Tag[] = [];
  for (const part of splitList(header)) {
    TAG.lastIndex = 0;
    const match = TAG.exec(part);
    if (match === null || TAG.lastIndex !== part.length) return undefined;
    tags.push({ weak: match[1] !== undefined, text: match[2] ?? "" });
  }
  return tags.length === 0 ? undefined : tags;
}

/** The members of a list; a comma inside a quoted tag does not part them, and empty members do not count. */
function splitList(header: string): string[] {
  return (header.match(/(?:[^,"]|"[^"]*"?)+/g) ?? [])
    .map((part) => part.trim())
    .filter((part) => part !== "");
}

export function sequenceTag(sequence: number): string {
  return `"${sequence}"`;
}

/**
 * The sequence that `If-Match` wants an encounter to be at; null where any will do. Weak tags never
 * match, since If-Match compares strongly. Of several the one that is the present state is taken, and
 * the ledger judges it again in its transaction.
 */
export async function expectedSequence(
  header: string | undefined,
  ledger: Ledger,
  encounter: string,
): Promise<Outcome<number | null>> {
  if (header === undefined) return done(null);
  const tags = tagsOf(header);
  if (tags === undefined) return badHeader("If-Match", 'must be entity-tags in quotes, such as "14", or *.');
  if (tags === "*") return done(null);
  const sequences = tags
    .filter(({ weak, text }) => !weak && /^(?:0|[1-9]\d{0,14})$/.test(text))
    .map(({ text }) => Number(text));
  if (sequences.length <= 1) return done(sequences[0] ?? NEVER);
  const present = await ledger.encounter(encounter);
  if (present.refused) return present;
  const { sequence } = present.done;
  return done(sequences.includes(sequence) ? sequence : Math.max(...sequences));
}

/** A computed answer, JSON or text as it is sent, with its tag; or 304 where the caller has it already. */
export function unlessKnown(
  answer: object | string,
  ifNoneMatch: string | undefined,
  others: Readonly<Record<string, string>> = {},
): Outcome<Answered> {
  const body = typeof answer === "string" ? answer : JSON.stringify(answer);
  const digest = createHash("sha256").update(body).digest("base64url");
  const headers = { ...others, etag: `"${digest}"` };
  if (ifNoneMatch === undefined) return done({ status: 200, body, headers });
  const tags = tagsOf(ifNoneMatch);
  if (tags === undefined) return badHeader("If-None-Match", "must be entity-tags in quotes, or *.");
  // If-None-Match compares weakly: the mark of a weak tag says nothing.
  const known = tags === "*" || tags.some(({ text }) => text === digest);
  return done(known ? { status: 304, body: null, headers } : { status: 200, body, headers });
}

/** A refusal of a header; `detail` goes on after its name. */
export function badHeader(header: string, detail: string) {
  const errors = [{ parameter: header, code: "wrong-form", detail: `"${header}" ${detail}` }];
  return refused({ problem: "bad-parameter", errors });
}
