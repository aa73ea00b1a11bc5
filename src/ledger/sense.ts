/**
 * The refusals of sense: what is well written and still cannot be recorded. There are few, since a true
 * fact is never refused: a time out of all bounds, a correction of what is not there, and a second
 * declaration of a key with other properties. (A dose that comes to no rate is found while placing.)
 */

import type { Source } from "../infusion/entry.js";
import type { Row } from "../store/store.js";
import { HOUR, type Instant, later, MINUTE } from "../time/instant.js";
import { instantOf } from "../wire/decode.js";
import type { PostedEntry } from "../wire/entry.js";
import type { Fault } from "../wire/fault.js";
import { readInstant } from "../wire/instant.js";
import { isByTheLedger, type StoredBody } from "../wire/stored.js";
import { contentOf, isCorrection, recordedOf } from "./families.js";

/** How long before admission something may have happened, and how far ahead a person may chart. */
export const BEFORE_ADMISSION = 24 * HOUR;
const AHEAD = 5 * MINUTE;

/** When an entry says it happened: for an amendment its replacement, for a void nothing. */
export function happenedAt(body: StoredBody): Instant | null {
  const content = contentOf(body);
  if (content.kind === "totals-reset") return instantOf(content);
  if ("at" in content) return readInstant(content.at);
  return "effectiveFrom" in content ? readInstant(content.effectiveFrom) : null;
}

/** What is wrong with the times an entry tells: none of a person's may lie ahead. */
export function timeFaults(
  posted: PostedEntry,
  index: number,
  source: Source,
  admittedAt: Instant,
  now: Instant,
): Fault[] {
  const content = contentOf(posted);
  const within = `#/entries/${index}${posted.kind === "entry-amended" ? "/replacement" : ""}`;
  const at = happenedAt(posted);
  const isEarly = (time: Instant | null) => time !== null && time < later(admittedAt, -BEFORE_ADMISSION);
  const started = content.kind === "segment-read" ? readInstant(content.start) : null;
  const early = isEarly(at) ? "at" : isEarly(started) ? "start" : null;
  if (early !== null) {
    const detail = "This lies more than 24 hours before the patient's admission.";
    return [{ pointer: `${within}/${early}`, code: "too-early", detail }];
  }
  if (source === "device") return [];
  return timesOf(content).flatMap(([field, time]): Fault[] => {
    if (readInstant(time) <= later(now, AHEAD)) return [];
    const detail = "This lies more than 5 minutes ahead: chart what has happened, not what is planned.";
    return [{ pointer: `${within}/${field}`, code: "too-far-ahead", detail }];
  });
}

/** The times a fact tells that need not lie before its `at`, by the places they stand at. */
function timesOf(content: StoredBody): [string, string][] {
  const times: [string, string][] = [];
  if ("at" in content) times.push(["at", content.at]);
  if (content.kind === "delivery-lost") times.push(["to", content.to]);
  if (content.kind === "totals-reset") {
    content.between?.forEach((time, i) => {
      times.push([`between/${i}`, time]);
    });
  }
  return times;
}

/** An entry that a correction or settlement names: stored, or earlier in the same request. */
export interface Target {
  readonly sequence: number;
  readonly id: string;
  readonly body: StoredBody;
  /** The sequence of the original at the end of its corrections. */
  readonly root: number;
}

export function targetOf(row: Row): Target {
  return { sequence: row.sequence, id: row.id, body: recordedOf(row).body, root: row.root ?? row.sequence };
}

/** What is wrong with the entries that a posted entry names. `original` is what its chain of corrections hangs on. */
export function targetFaults(
  posted: PostedEntry,
  index: number,
  find: (id: string) => Target | undefined,
  original: (target: Target) => Target | undefined,
): Fault[] {
  if (posted.kind === "variance-settled") {
    const reading = find(posted.reading);
    if (reading === undefined) return [notThere(index, "reading", posted.reading)];
    const isReading = ["total-read", "segment-read", "chamber-read", "bag-level-read"].includes(
      contentOf(reading.body).kind,
    );
    if (isReading) return [];
    const detail = `"${posted.reading}" is no reading, so there is no variance of it to settle.`;
    return [{ pointer: `#/entries/${index}/reading`, code: "other-kind", detail }];
  }
  if (!isCorrection(posted)) return [];
  const target = find(posted.entry);
  if (target === undefined) return [notThere(index, "entry", posted.entry)];
  const root = original(target);
  if (root === undefined || (isByTheLedger(root.body) && !mayBeUndone(posted, root.body))) {
    const detail = `"${posted.entry}" was written by the ledger itself: ${insteadOf(root?.body.kind)}`;
    return [{ pointer: `#/entries/${index}/entry`, code: "not-correctable", detail }];
  }
  if (posted.kind === "entry-voided") return [];
  const faults: Fault[] = [];
  if (target.body.kind === "entry-voided") {
    const detail = `"${posted.entry}" is a void: void it to bring the entry back, or amend the entry itself.`;
    faults.push({ pointer: `#/entries/${index}/entry`, code: "not-correctable", detail });
  }
  if (posted.replacement.kind !== root.body.kind) {
    const detail = `A replacement has the kind of what it replaces: "${root.body.kind}".`;
    faults.push({ pointer: `#/entries/${index}/replacement/kind`, code: "other-kind", detail });
  }
  const replaced = posted.replaces === undefined ? undefined : find(posted.replaces);
  if (posted.replaces !== undefined && replaced?.root !== target.root) {
    faults.push(notThere(index, "replaces", posted.replaces));
  } else if (replaced?.body.kind === "entry-voided") {
    const detail = `"${replaced.id}" is a void and says nothing that could be replaced: name what stood before it.`;
    faults.push({ pointer: `#/entries/${index}/replaces`, code: "other-kind", detail });
  }
  return faults;
}

/** What a person said of a finding can be taken back, and brought back; it is said anew rather than amended. */
function mayBeUndone(posted: PostedEntry, { kind }: StoredBody): boolean {
  return posted.kind === "entry-voided" && kind === "finding-acknowledged";
}

/** How what the ledger writes itself is put right. */
function insteadOf(kind: string | undefined): string {
  switch (kind) {
    case "shift-signed":
      return "a signature stays, and where its figures change a later one stands for it. Correct the entries, and sign again.";
    case "finding-acknowledged":
      return "an acknowledgement is not amended. Void it, or acknowledge the finding again: the last one holds.";
    case "chart-posted":
      return "a chart is kept again under another id, and the last one of a span counts.";
    case "admitted":
      return "an admission is not corrected.";
    default:
      return "move, discharge and settings have requests of their own.";
  }
}

function notThere(index: number, field: string, id: string): Fault {
  const detail = `There is no entry "${id}" in this encounter to which this could refer.`;
  return { pointer: `#/entries/${index}/${field}`, code: "unknown-entry", detail };
}

/** Ids that an array names more than once, at their later places. */
export function repeatedIds(entries: readonly PostedEntry[]): Fault[] {
  const seen = new Set<string>();
  const faults: Fault[] = [];
  entries.forEach(({ id }, index) => {
    if (id === undefined) return;
    if (seen.has(id)) {
      const detail = `The id "${id}" stands earlier in the same request.`;
      faults.push({ pointer: `#/entries/${index}/id`, code: "repeated-id", detail });
    }
    seen.add(id);
  });
  return faults;
}
