/**
 * Which time of a stay something concerns that is to be written: the instants and spans of which it says what
 * happened, as they are with it and as they were before. A correction concerns what counted until then and what
 * counts from then on; a change of the stay concerns everything from its instant to the end of what it changes.
 */

import type { Source } from "../infusion/entry.js";
import { ask, type Chain, type Inquiry } from "../store/store.js";
import type { Instant, Period } from "../time/instant.js";
import type { EncounterPatch } from "../wire/encounters.js";
import { readInstant } from "../wire/instant.js";
import type { StoredBody } from "../wire/stored.js";
import type { Posted } from "./append.js";
import { changingIn, contentOf, familiesOf, isCorrection, type Told } from "./families.js";
import { END_OF_TIME } from "./replay.js";
import { happenedAt } from "./sense.js";
import type { StayFacts } from "./stay.js";

/**
 * The times that the entries of a request concern, with those of what they correct or decide about. Half-open;
 * of an instant start and end are one.
 */
export function* timesOfEntries(
  chain: Chain,
  posted: readonly Posted[],
  source: Source,
): Inquiry<readonly Period[]> {
  const named = posted.flatMap(({ entry }) => namedBy(entry) ?? []);
  const stored = named.length === 0 ? [] : yield* ask({ ask: "ids", chain, ids: named });
  const families: (readonly Told[])[] = familiesOf(stored);
  const familyOf = new Map(families.flatMap((family, i) => family.map(({ id }) => [id, i] as const)));
  const anew: Told[][] = families.map((family) => [...family]);
  for (const [i, { entry }] of posted.entries()) {
    const of = familyOf.get(namedBy(entry) ?? "");
    if (of === undefined) continue;
    // What has no id yet is named by nobody: any that is no id will do.
    const id = entry.id ?? `#${i}`;
    anew[of]!.push({ id, body: entry });
    familyOf.set(id, of);
  }
  const corrected = families.flatMap((family, i) => changingIn(family, anew[i]!));
  return [...posted.map(({ entry }) => entry), ...corrected].flatMap((body) => timeOf(body, source) ?? []);
}

function namedBy(entry: StoredBody): string | undefined {
  if (isCorrection(entry)) return entry.entry;
  return entry.kind === "variance-settled" ? entry.reading : undefined;
}

/**
 * Of which time an entry tells. What was lost counts in its span, whenever somebody noticed. An amount counts
 * where its period ends, and a clear from the earliest instant it can have been, so that those alone say whose it
 * is. So does a device's own segment, since a device goes with the patient and cannot part what it counted; a
 * person who says what a device counted says it of the whole span.
 */
function timeOf(body: StoredBody, source: Source): Period | undefined {
  const content = contentOf(body);
  if (content.kind === "delivery-lost") {
    return { start: readInstant(content.from), end: readInstant(content.to) };
  }
  const at = happenedAt(content);
  if (at === null) return undefined;
  if (content.kind === "segment-read" && source === "person") {
    return { start: readInstant(content.start), end: at };
  }
  return { start: at, end: at };
}

/** The time that a change of a stay concerns; undefined for another bed, which changes no figure. */
export function timeOfChange(body: EncounterPatch, facts: StayFacts): Period | undefined {
  if ("bed" in body) return undefined;
  if ("discharge" in body) return { start: readInstant(body.discharge.at), end: END_OF_TIME };
  if ("dischargedAt" in body)
    return facts.dischargedAt === null ? undefined : { start: facts.dischargedAt, end: END_OF_TIME };
  const start = readInstant(body.move.at);
  return { start, end: nextAfter(facts, start) };
}

/** Where the station ends that begins at an instant: where the next one begins. */
function nextAfter({ stations }: StayFacts, at: Instant): Instant {
  return stations
    .map(({ from }) => from)
    .reduce((next, from) => (at < from && from < next ? from : next), END_OF_TIME);
}
