/**
 * From a fact as it was sent to an entry as the calculation sees it: mL become whole microlitres,
 * texts instants, what was left out its default. What a dose, drops or a duration came to is not
 * computed here; it was, once, when the entry was recorded, and is handed in.
 *
 * The table has a row for every kind and the compiler misses none; what the calculation does not use
 * (notes, labels of devices, reasons) stays behind.
 */

import type { BodyWeight } from "../infusion/body-weight.js";
import type { Entry, HouseholdMeasure, OutputMeasured, VolumeToInfuse } from "../infusion/entry.js";
import type { Instant } from "../time/instant.js";
import { DEFAULTS } from "./entries/defaults.js";
import type { PostedFact } from "./entries/facts.js";
import type { PostedEntry } from "./entry.js";
import { readInstant } from "./instant.js";
import { microlitres, rate, scaled, type Weight } from "./quantity.js";
import { bolusRate, bolusVolume, flowRate, type Resolved } from "./resolved.js";

type Kind = PostedFact["kind"];
type Posted<K extends Kind> = Extract<PostedFact, { kind: K }>;
type Decoded<K extends Kind> = Omit<Extract<Entry, { kind: K }>, "kind" | "at" | "order">;
type Decoders = { readonly [K in Kind]: (posted: Posted<K>, resolved: Resolved) => Decoded<K> };

/**
 * The entry that a fact describes. Throws a TypeError for a correction, which describes none, and a
 * RangeError for a dose, drops or duration without what it came to.
 */
export function decodeEntry(posted: PostedEntry, resolved: Resolved = {}): Entry {
  if (posted.kind === "entry-amended" || posted.kind === "entry-voided") {
    throw new TypeError(`a correction is no fact by itself: ${posted.kind}`);
  }
  const decode = DECODERS[posted.kind] as (posted: PostedFact, resolved: Resolved) => Decoded<Kind>;
  const { kind, order } = posted;
  const happened = { kind, at: instantOf(posted), ...(order !== undefined && { order }) };
  return Object.assign(happened, decode(posted, resolved)) as Entry;
}

/** When a fact counts from: a clear that nobody knows the time of, from the earliest it can have been. */
export function instantOf(posted: PostedFact): Instant {
  const between = posted.kind === "totals-reset" ? posted.between : undefined;
  return readInstant(between?.[0] ?? posted.at);
}

/** What can clear totals, and whether a reason was given for not reading them first. */
const clearing = ({ channel, leaveUncaptured }: { channel: string; leaveUncaptured?: unknown }) => ({
  channel,
  leaveUncaptured: leaveUncaptured !== undefined,
});

const onChannel = ({ channel }: { readonly channel: string }) => ({ channel });

const DECODERS: Decoders = {
  "line-placed": ({ line, label, site, route }) => ({ line, label, site, route }),
  "line-removed": ({ line }) => ({ line }),
  "channel-connected": (posted) => ({
    ...clearing(posted),
    line: posted.line,
    type: posted.type,
    totals: posted.totals ?? DEFAULTS.totals,
    clearsOn: unique(posted.clearsOn ?? DEFAULTS.clearsOn),
    device: posted.device,
    rateStep: given(posted.rateStep, rate),
    dropFactor: posted.dropFactor,
  }),
  "channel-disconnected": (posted) => clearing(posted),
  "bag-hung": ({ channel, bag, role, fluid, volume, remaining, additives }) => ({
    channel,
    bag,
    role: role ?? DEFAULTS.role,
    fluid,
    volume: microlitres(volume),
    remaining: given(remaining, microlitres),
    additives: additives?.map(({ name, amount, unit }) => ({ name, amount: scaled(amount, 6), unit })),
  }),
  "bag-taken-down": ({ bag, remaining, method }) => ({
    bag,
    remaining: given(remaining, microlitres),
    method,
  }),
  "bag-level-read": ({ bag, remaining, method }, { countsFrom }) => ({
    bag,
    remaining: microlitres(remaining),
    method,
    countsFrom: given(countsFrom, readInstant),
  }),
  "bag-adjusted": ({ bag, volume }) => ({ bag, volume: microlitres(volume) }),
  "flow-started": (posted, resolved) => ({
    channel: posted.channel,
    rate: flowRate(posted, resolved),
    doseRate: given(resolved.doseRate, rate),
    volumeToInfuse: limit(posted.volumeToInfuse),
    keepOpenRate: given(posted.keepOpenRate, rate),
  }),
  "rate-changed": (posted, resolved) => ({
    channel: posted.channel,
    role: posted.role ?? DEFAULTS.role,
    rate: flowRate(posted, resolved),
    doseRate: given(resolved.doseRate, rate),
  }),
  "volume-to-infuse-set": ({ channel, role, volumeToInfuse }) => ({
    channel,
    role: role ?? DEFAULTS.role,
    volumeToInfuse: limit(volumeToInfuse),
  }),
  "flow-paused": onChannel,
  "flow-resumed": onChannel,
  "flow-stopped": onChannel,
  "secondary-started": (posted, resolved) => ({
    ...clearing(posted),
    primaryClamped: posted.primaryClamped,
    rate: flowRate(posted, resolved),
    doseRate: given(resolved.doseRate, rate),
    volumeToInfuse: limit(posted.volumeToInfuse),
    whenDone: posted.whenDone ?? DEFAULTS.afterSecondary,
  }),
  "secondary-ended": onChannel,
  "bolus-started": (posted, resolved) => ({
    channel: posted.channel,
    rate: bolusRate(posted, resolved),
    volume: bolusVolume(posted, resolved),
    whenDone: posted.whenDone ?? DEFAULTS.afterBolus,
  }),
  "bolus-stopped": onChannel,
  "delivery-lost": ({ channel, from, to, volume, reason }) => ({
    channel,
    from: readInstant(from),
    to: readInstant(to),
    volume: volume === "unknown" ? volume : microlitres(volume),
    reason,
  }),
  "total-read": ({ channel, total, volume, position, confirmed }) => ({
    channel,
    total,
    volume: microlitres(volume),
    position,
    confirmed,
  }),
  "totals-reset": (posted) => ({
    ...clearing(posted),
    totals: unique(posted.totals ?? DEFAULTS.reset),
    cause: posted.cause,
    latest: given(posted.between?.[1], readInstant),
  }),
  "therapy-changed": (posted) => clearing(posted),
  "variance-settled": ({ reading, use }) => ({ reading, use }),
  "intake-measured": (posted) => ({
    category: posted.category,
    ...("volume" in posted ? { volume: microlitres(posted.volume) } : { measure: measured(posted.measure) }),
    line: posted.line,
    item: posted.item,
    from: given(posted.from, readInstant),
  }),
  "output-measured": (posted) => ({
    category: posted.category,
    ...howMuch(posted),
    site: posted.site,
    from: given(posted.from, readInstant),
  }),
  "irrigant-instilled": ({ site, volume }) => ({ site, volume: microlitres(volume) }),
  "chamber-placed": ({ chamber, category, level }) => ({
    chamber,
    category,
    level: given(level, microlitres),
  }),
  "chamber-read": ({ chamber, category, level, confirmed }) => ({
    chamber,
    category,
    level: microlitres(level),
    confirmed,
  }),
  "chamber-emptied": ({ chamber, category, level, leaveUncaptured }) => ({
    chamber,
    category,
    level: given(level, microlitres),
    leaveUncaptured: leaveUncaptured !== undefined,
  }),
  "away-started": ({ place, flows }) => ({ place, flows }),
  "away-ended": () => ({}),
  "weight-measured": ({ weight }) => ({ weight: decodeWeight(weight) }),
  "segment-read": ({ channel, start, volume, confirmed }) => ({
    channel,
    start: readInstant(start),
    volume: microlitres(volume),
    confirmed,
  }),
};

function measured({ name, count }: { name: string; count: number }): HouseholdMeasure {
  return { name, count: scaled(count, 3) };
}

/** The one way in which an output says how much it was, and what of that was given back. */
function howMuch(posted: Posted<"output-measured">): Partial<OutputMeasured> {
  if ("occurrences" in posted) return { occurrences: posted.occurrences };
  const returned = given(posted.returned, microlitres);
  if ("volume" in posted) return { volume: microlitres(posted.volume), returned };
  if ("measure" in posted) return { measure: measured(posted.measure), returned };
  const { wet, dry } = posted.weighed;
  return { weighed: { wet: scaled(wet, 3), dry: scaled(dry, 3) }, returned };
}

/** A body weight in whole thousandths of the unit it was written down in. */
export function decodeWeight({ value, unit }: Weight): BodyWeight {
  return { value: scaled(value, 3), unit };
}

function limit(volume: number | "none" | undefined): VolumeToInfuse {
  if (volume === undefined) return DEFAULTS.volumeToInfuse;
  return volume === "none" ? volume : microlitres(volume);
}

function given<T, U>(value: T | undefined, convert: (value: T) => U): U | undefined {
  return value === undefined ? undefined : convert(value);
}

function unique<T>(values: readonly T[]): readonly T[] {
  return [...new Set(values)];
}
