/**
 * An entry's history as steps: how it was first recorded, then each correction with what it put in place of what
 * stood before. A void may be of the entry, of an amendment (what stood before counts again), or of a void.
 */

import type { Entry, EntryHistory } from "../api/shapes.js";

/** One value of an entry that a step changed; undefined where there was or is none. */
export interface FieldChange {
  /** "rate", "fluid.name", "additives.0.amount". */
  readonly field: string;
  readonly before: unknown;
  readonly after: unknown;
}

export interface Step {
  /** The entry itself first, then the corrections of it. */
  readonly entry: Entry;
  readonly changes: readonly FieldChange[];
  /** Of a void: of what. */
  readonly voids: "entry" | "amendment" | "void" | null;
  /** How the entry stands after this step. */
  readonly stands: boolean;
}

type Fields = Readonly<Record<string, unknown>>;

/** What of an entry is about its recording and not about what happened. */
const ABOUT = new Set(["id", "kind", "recorded", "asOf", "amendments", "next"]);

export function stepsOf(history: EntryHistory): Step[] {
  const first: Step = {
    entry: history,
    changes: [],
    voids: null,
    stands: true,
  };
  const { amendments } = history;
  let before: Fields = history;
  const corrections = amendments.map((entry, index): Step => {
    const { stands, fields } = afterwards(history, amendments.slice(0, index + 1));
    const changes = changed(before, fields);
    before = fields;
    return { entry, changes, voids: voided(entry, amendments, history.id), stands };
  });
  return [first, ...corrections];
}

/** The entry as corrections leave it: the last that is not itself voided counts. */
function afterwards(history: EntryHistory, corrections: readonly Entry[]) {
  const undone = new Set<unknown>();
  let amended: Fields | null = null;
  for (const correction of [...corrections].reverse()) {
    if (undone.has(correction.id)) continue;
    if (correction.kind === "entry-voided") undone.add(correction.entry);
    else amended ??= correction.replacement as Fields;
  }
  return { stands: !undone.has(history.id), fields: amended ?? (history as Fields) };
}

function voided(entry: Entry, amendments: readonly Entry[], original: string): Step["voids"] {
  if (entry.kind !== "entry-voided") return null;
  if (entry.entry === original) return "entry";
  const of = amendments.find(({ id }) => id === entry.entry);
  return of?.kind === "entry-voided" ? "void" : "amendment";
}

/** Every value that is another one, in the order of the fields. */
export function changed(before: Fields, after: Fields): FieldChange[] {
  const [old, now] = [flat(before), flat(after)];
  return [...new Set([...old.keys(), ...now.keys()])]
    .filter((field) => old.get(field) !== now.get(field))
    .map((field) => ({ field, before: old.get(field), after: now.get(field) }));
}

/** Every value of an entry by its field: "fluid.name". */
export function flat(fields: Fields): Map<string, unknown> {
  const found = new Map<string, unknown>();
  const walk = (value: unknown, path: string) => {
    if (typeof value !== "object" || value === null) found.set(path, value);
    else for (const [key, inner] of Object.entries(value)) walk(inner, `${path}.${key}`);
  };
  for (const [key, value] of Object.entries(fields)) if (!ABOUT.has(key)) walk(value, key);
  return found;
}

export function isCorrection({ kind }: Entry): boolean {
  return kind === "entry-amended" || kind === "entry-voided";
}

/** The id of the entry whose history a correction belongs to, as far as `among` tells; any other's own. */
export function correctedBy(entry: Entry, among: readonly Entry[]): string {
  if (!isCorrection(entry)) return entry.id;
  const of = String(entry.entry);
  const target = among.find(({ id }) => id === of);
  return target === undefined ? of : correctedBy(target, among);
}
