/**
 * Which unit charts which time of a stay. A patient who moves is charted, at every instant, by the unit they
 * were in then; staff of a unit that the patient has left may write and sign for their own time for a day
 * more, since charting is often finished after the bed is empty.
 */

import type { Conventions } from "../conventions/dated.js";
import type { Source } from "../infusion/entry.js";
import { ask, type Chain, type Departure, type Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { earliest, type Instant, later, latest, type Period } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import type { EncounterPatch } from "../wire/encounters.js";
import { isByTheLedger } from "../wire/stored.js";
import type { Posted } from "./append.js";
import { timeOfChange, timesOfEntries } from "./concerned.js";
import { countingOf } from "./families.js";
import type { Memory } from "./memory.js";
import { AHEAD } from "./own-entries.js";
import type { Refusal } from "./refusal.js";
import type { Known } from "./replay.js";
import { happenedAt } from "./sense.js";
import { signaturesOver } from "./signatures.js";
import { type StayFacts, stayFacts } from "./stay.js";

/** For how long after a patient has left, staff of the unit may write and sign for their own time. */
export const FINISHED_WITHIN = DAY;

type Stations = Pick<Conventions, "stretches" | "stretchAt">;

/** When a patient left the last of some units; null while in one of them, undefined where never in one. */
export function leftAt({ stretches }: Stations, units: readonly string[]): Instant | null | undefined {
  const last = stretches.findLastIndex(({ unit }) => units.includes(unit));
  return last === -1 ? undefined : (stretches[last + 1]?.from ?? null);
}

/** The units that a patient has left, and when they last did. */
export function departures(stations: Stations): readonly Departure[] {
  const present = stations.stretches.at(-1)!.unit;
  const left = new Set(stations.stretches.map(({ unit }) => unit));
  left.delete(present);
  return [...left].map((unit) => ({ unit, leftAt: leftAt(stations, [unit])! }));
}

/** Whether staff of some units may chart at all at `now`: the patient is there, or was until lately. */
export function mayFinish(stations: Stations, units: readonly string[], now: Instant): boolean {
  const left = leftAt(stations, units);
  return left === null || (left !== undefined && now < later(left, FINISHED_WITHIN));
}

/** Whether staff of some units may write, or sign, for an instant of a stay. */
export function mayChart(stations: Stations, units: readonly string[], at: Instant, now: Instant): boolean {
  return units.includes(stations.stretchAt(at).unit) && mayFinish(stations, units, now);
}

/** The stations of a stay; undefined where there is no such stay. */
export function* stations(chain: Chain): Inquiry<Conventions | undefined> {
  const head = yield* ask({ ask: "head", chain });
  return (yield* stayFacts(chain, head.sequence))?.conventions;
}

interface Judged {
  readonly stations: Stations;
  /** The only units the caller may act on; null for every unit. */
  readonly units: readonly string[] | null;
  readonly now: Instant;
}

/** The first instant of some times that is not the caller's to chart or sign; undefined where all of them are. */
function notTheirs({ stations, units, now }: Judged, times: readonly Period[]): Instant | undefined {
  if (units === null) return undefined;
  const changes = stations.stretches.map(({ from }) => from);
  return times
    .flatMap(({ start, end }) => [start, ...changes.filter((from) => start < from && from < end)])
    .find((at) => !mayChart(stations, units, at, now));
}

/** Why a caller may not sign for a span of a stay; undefined where they may. */
export function othersSpan(
  stations: Stations,
  units: readonly string[] | null,
  span: Period,
  now: Instant,
): Refusal | undefined {
  const other = notTheirs({ stations, units, now }, [span]);
  return other === undefined ? undefined : notYours(whose(stations, units!, other));
}

interface Charting {
  readonly chain: Chain;
  /** The only units whose time the caller may chart; null for every unit. */
  readonly units: readonly string[] | null;
  readonly source: Source;
  readonly posted: readonly Posted[];
  readonly now: Instant;
}

/** Why a caller may not record something of a request; undefined where they may. */
export function* othersTime({ chain, units, source, posted, now }: Charting): Inquiry<Refusal | undefined> {
  if (units === null) return undefined;
  const head = yield* ask({ ask: "head", chain });
  const remembered = head.memory as Memory | undefined;
  const facts = remembered?.facts ?? (yield* stayFacts(chain, head.sequence));
  // An encounter that is not there is refused by whoever looks for it.
  if (facts === undefined || facts.stations.every(({ unit }) => units.includes(unit))) return undefined;
  const { conventions } = facts;
  const times = yield* timesOfEntries(chain, posted, source);
  const other = notTheirs({ stations: conventions, units, now }, times);
  return other === undefined ? undefined : notYours(whose(conventions, units, other));
}

interface Changing {
  readonly known: Known;
  readonly facts: StayFacts;
  readonly caller: { readonly id: string; readonly units: readonly string[] | null };
  readonly body: EncounterPatch;
  readonly now: Instant;
}

/**
 * Why a caller may not change a stay so; undefined where they may. Whose time it is may move the patient on from
 * it, or end the stay. The unit that a patient came to may record that as well, from when on nobody else has charted
 * or signed: what others have put down stays theirs.
 */
export function* othersStay({ known, facts, caller, body, now }: Changing): Inquiry<Refusal | undefined> {
  const { units } = caller;
  const changed = timeOfChange(body, facts);
  if (units === null || changed === undefined) return undefined;
  const { conventions } = facts;
  const { start } = changed;
  const time = { start, end: latest(start, earliest(changed.end, later(now, AHEAD))) };
  const other = notTheirs({ stations: conventions, units, now }, [time]);
  if (other === undefined) return undefined;
  const theirs = whose(conventions, units, other);
  if (!("move" in body) || !units.includes(body.move.unit)) return notYours(theirs);
  const charted = yield* chartedLast(known, time, caller.id);
  if (charted === undefined) return undefined;
  const until = formatInstant(charted, conventions.stretchAt(charted).zone);
  return notYours(`${theirs} It is charted or signed up to ${until}: who comes after arrives no earlier.`);
}

/** The last instant within a period that somebody else has charted, or signed up to; undefined where nobody has. */
function* chartedLast(known: Known, { start, end }: Period, caller: string): Inquiry<Instant | undefined> {
  const { chain, upTo } = known;
  const rows = yield* ask({ ask: "span", chain, from: later(start, 1), to: end, upTo });
  const charted = countingOf(rows).flatMap(({ original, content, body }) => {
    if (isByTheLedger(body) || original.source === "device") return [];
    if (original.by.id === caller && content.by.id === caller) return [];
    const at = happenedAt(body);
    return at !== null && start < at && at < end ? [at] : [];
  });
  const signed = (yield* signaturesOver(known, { from: start, to: end })).map(({ to }) => earliest(to, end));
  const last = latest(start, ...charted, ...signed);
  return last === start ? undefined : last;
}

function notYours(detail: string): Refusal {
  return { problem: "not-your-time", detail };
}

function whose(stations: Stations, units: readonly string[], at: Instant): string {
  const { unit, zone } = stations.stretchAt(at);
  const when = formatInstant(at, zone);
  return units.includes(unit)
    ? `The patient left ${unit} more than 24 hours ago: ${when} is not charted from there any more.`
    : `The patient was in ${unit} at ${when}, which charts that time.`;
}
