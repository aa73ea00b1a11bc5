/**
 * Keys that entries declare: lines, channels, bags. Declared again under the same key, the properties
 * must be the same; where a channel is connected, or where a bag hangs, is no property.
 */

import { ask, type Chain, type Inquiry, type Row } from "../store/store.js";
import { declaredProperties } from "../wire/declared.js";
import type { Fault } from "../wire/fault.js";
import type { StoredBody } from "../wire/stored.js";
import { isByTheLedger } from "../wire/stored.js";
import { contentOf, countingOf } from "./families.js";
import { canonical } from "./record.js";

/** The key a body declares and the properties it declares it with, as text. */
export function declaredBy(body: StoredBody): { key: string; properties: string } | undefined {
  const content = contentOf(body);
  const told = isByTheLedger(content) ? undefined : declaredProperties(content);
  return told === undefined ? undefined : { key: told.key, properties: told.text };
}

export interface Declaring {
  readonly index: number;
  readonly sequence: number;
  readonly key: string;
  readonly properties: string;
  /** By an entry of its own, by an amendment, or by a void that makes it count again. */
  readonly how: "posted" | "amended" | "revived";
}

/** Properties by key, as they were found to be the same in every declaration that counts. */
export type Declared = ReadonlyMap<string, string>;

/**
 * The faults of declarations being added, and what is declared with them. `staged` are whole families
 * of what is added or corrected; `known` may be empty, but never out of date.
 */
export function* declarationFaults(
  chain: Chain,
  declaring: readonly Declaring[],
  staged: readonly Row[],
  known: Declared,
  upTo: number,
): Inquiry<{ faults: Fault[]; declared: Declared }> {
  if (declaring.length === 0) return { faults: [], declared: known };
  const unsure = declaring.filter(
    ({ key, properties, how }) => how !== "posted" || known.get(key) !== properties,
  );
  if (unsure.length === 0) return { faults: [], declared: known };
  const keys = [...new Set(unsure.map(({ key }) => key))];
  const stored = yield* ask({ ask: "declares", chain, keys });
  const rows = new Map<number, Row>();
  for (const row of stored) if (row.sequence <= upTo) rows.set(row.sequence, row);
  for (const row of staged) rows.set(row.sequence, row);
  const inForce = new Map<string, { sequence: number; properties: string }[]>();
  for (const { content, body } of countingOf([...rows.values()])) {
    const told = declaredBy(body);
    if (told === undefined) continue;
    const others = inForce.get(told.key) ?? [];
    inForce.set(told.key, [...others, { sequence: content.sequence, properties: told.properties }]);
  }
  const faults: Fault[] = [];
  const declared = new Map(known);
  for (const one of unsure) {
    const others = inForce.get(one.key) ?? [];
    const counts = others.some(({ sequence }) => sequence === one.sequence);
    const differs = others.some(({ sequence, properties }) => {
      const stood = sequence < one.sequence || one.how === "revived";
      return stood && !compatible(properties, one.properties);
    });
    if (counts && differs) faults.push(faultOf(one));
    else if (counts) declared.set(one.key, one.properties);
  }
  return { faults, declared };
}

function faultOf({ index, key, how }: Declaring): Fault {
  const [what, name] = [key.slice(0, key.indexOf(":")), key.slice(key.indexOf(":") + 1)];
  const detail = `The ${what} "${name}" was declared before with other properties; another ${what} needs another key.`;
  const field = { posted: what, amended: `replacement/${what}`, revived: "entry" }[how];
  return { pointer: `#/entries/${index}/${field}`, code: "key-in-use", detail };
}

/** Whether two declarations can be of one thing: what both of them say, they say alike. */
function compatible(a: string, b: string): boolean {
  if (a === b) return true;
  const [one, other] = [JSON.parse(a), JSON.parse(b)] as Record<string, unknown>[];
  return Object.entries(one!).every(
    ([name, value]) => other![name] === undefined || canonical(value) === canonical(other![name]),
  );
}
