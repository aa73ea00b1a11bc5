/** What was recorded lately, of whatever encounter: for pages that show what a colleague has just written down. */

import { ask, type Chain, type Inquiry } from "../store/store.js";
import { stations } from "./charting.js";

/** An encounter of which something was recorded. */
export interface LatelyRecorded {
  readonly encounter: string;
  /** Of its last entry by then. */
  readonly sequence: number;
  /** The unit the patient is in; with those they were in before, where what was recorded may have moved them. */
  readonly units: readonly string[];
}

export interface Recordings {
  /** Where to go on from. */
  readonly place: number;
  readonly recordings: readonly LatelyRecorded[];
  /** There may be more by now. */
  readonly more: boolean;
}

/** How many entries are looked at in one go. */
const AT_ONCE = 500;

/** What may put a patient into another unit: also a correction of what did. */
const MOVING: ReadonlySet<string> = new Set(["admitted", "moved", "entry-amended", "entry-voided"]);

/** The encounters of which something was recorded after a place, each once; null for the present place. */
export function* recordedSince(place: number | null): Inquiry<Recordings> {
  const { place: reached, rows } = yield* ask({ ask: "recorded-since", place, limit: AT_ONCE });
  const last = new Map<string, { sequence: number; moved: boolean }>();
  for (const { chain, sequence, kind } of rows) {
    if (!chain.startsWith("encounter/")) continue;
    const encounter = chain.slice("encounter/".length);
    last.set(encounter, { sequence, moved: MOVING.has(kind) || (last.get(encounter)?.moved ?? false) });
  }
  const recordings: LatelyRecorded[] = [];
  for (const [encounter, { sequence, moved }] of last) {
    recordings.push({ encounter, sequence, units: yield* unitsOf(encounter, moved) });
  }
  return { place: reached, recordings, more: rows.length === AT_ONCE };
}

function* unitsOf(encounter: string, moved: boolean): Inquiry<readonly string[]> {
  const stay = yield* ask({ ask: "stay", encounter });
  const now = stay === undefined ? [] : [stay.unit];
  if (!moved) return now;
  const chain: Chain = `encounter/${encounter}`;
  const stretches = (yield* stations(chain))?.stretches ?? [];
  return [...new Set([...now, ...stretches.map(({ unit }) => unit)])];
}
