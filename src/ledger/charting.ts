/**
 * Which unit charts which time of a stay. A patient who moves is charted, at every instant, by the unit they
 * were in then; staff of a unit that the patient has left may write and sign for their own time for a day
 * more, since charting is often finished after the bed is empty.
 */

import type { Conventions } from "../conventions/dated.js";
import { ask, type Chain, type Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { type Instant, later, type Period } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import type { Posted } from "./append.js";
import { isCorrection, recordedOf } from "./families.js";
import type { Memory } from "./memory.js";
import type { Refusal } from "./refusal.js";
import { happenedAt } from "./sense.js";
import { stayFacts } from "./stay.js";

/** For how long after a patient has left, staff of the unit may write and sign for their own time. */
export const FINISHED_WITHIN = DAY;

type Stations = Pick<Conventions, "stretches" | "stretchAt">;

/** When a patient left the last of some units; null while in one of them, undefined where never in one. */
export function leftAt({ stretches }: Stations, units: readonly string[]): Instant | null | undefined {
  const last = stretches.findLastIndex(({ unit }) => units.includes(unit));
  return last === -1 ? undefined : (stretches[last + 1]?.from ?? null);
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

/** Why a caller may not sign for a span of a stay; undefined where they may. */
export function othersSpan(
  stations: Stations,
  units: readonly string[] | null,
  { start, end }: Period,
  now: Instant,
): Refusal | undefined {
  if (units === null) return undefined;
  const within = stations.stretches.map(({ from }) => from).filter((from) => start < from && from < end);
  const other = [start, ...within].find((at) => !mayChart(stations, units, at, now));
  if (other === undefined) return undefined;
  return { problem: "forbidden", detail: whose(stations, units, other) };
}

interface Charting {
  readonly chain: Chain;
  /** The only units the caller may act on; null for every unit. */
  readonly units: readonly string[] | null;
  readonly posted: readonly Posted[];
  readonly now: Instant;
}

/** Why a caller may not record something of a request; undefined where they may. */
export function* othersTime({ chain, units, posted, now }: Charting): Inquiry<Refusal | undefined> {
  if (units === null) return undefined;
  const head = yield* ask({ ask: "head", chain });
  const remembered = head.memory as Memory | undefined;
  const facts = remembered?.facts ?? (yield* stayFacts(chain, head.sequence));
  // An encounter that is not there is refused by whoever looks for it.
  if (facts === undefined || facts.stations.every(({ unit }) => units.includes(unit))) return undefined;
  const { conventions } = facts;
  const named = posted.flatMap(({ entry }) =>
    isCorrection(entry) ? [entry.entry] : entry.kind === "variance-settled" ? [entry.reading] : [],
  );
  const stored = named.length === 0 ? [] : yield* ask({ ask: "ids", chain, ids: named });
  const times = [
    ...posted.map(({ entry }) => happenedAt(entry)),
    ...stored.filter(({ id }) => named.includes(id)).map((row) => happenedAt(recordedOf(row).body)),
  ];
  const other = times.find((at) => at !== null && !mayChart(conventions, units, at, now));
  if (other === undefined || other === null) return undefined;
  return { problem: "forbidden", detail: whose(conventions, units, other) };
}

function whose(stations: Stations, units: readonly string[], at: Instant): string {
  const { unit, zone } = stations.stretchAt(at);
  const when = formatInstant(at, zone);
  return units.includes(unit)
    ? `The patient left ${unit} more than 24 hours ago: ${when} is not charted from there any more.`
    : `The patient was in ${unit} at ${when}, which charts that time.`;
}
