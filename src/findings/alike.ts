/** Whether two entries, charted within minutes of each other, may tell of one and the same thing. */

import type {
  BagHung,
  BolusStarted,
  ChamberEmptied,
  Entry,
  IntakeMeasured,
  OutputMeasured,
} from "../infusion/entry.js";
import { MINUTE } from "../time/instant.js";
import type { Evidence } from "./finding.js";

/** As for reports of a person and a device, which count once by themselves. */
const ON_A_CHANNEL = 3 * MINUTE;
const BY_HAND = 5 * MINUTE;

/** No two that are further apart are alike. */
export const APART = BY_HAND;

/** The kinds that may, and what is said of one of them. */
export const CHARTED_TWICE = {
  "bolus-started": "bolus",
  "intake-measured": "intake",
  "output-measured": "output",
  "irrigant-instilled": "irrigant",
  "chamber-emptied": "output",
  "bag-hung": "bag",
} as const;

export type ChartedTwice = Extract<Entry, { kind: keyof typeof CHARTED_TWICE }>;

export function canBeTwice(entry: Entry): entry is ChartedTwice {
  return entry.kind in CHARTED_TWICE;
}

export function alike(a: Entry, b: Entry, evidence: Evidence): boolean {
  const apart = Math.abs(a.at - b.at);
  if (a.kind === "bolus-started" && b.kind === "bolus-started") {
    return apart <= ON_A_CHANNEL && sameBolus(a, b);
  }
  if (a.kind === "bag-hung" && b.kind === "bag-hung") {
    return apart <= ON_A_CHANNEL && sameBag(a, b) && !isDown(a, evidence);
  }
  if (apart > BY_HAND) return false;
  if (a.kind === "intake-measured" && b.kind === "intake-measured") return sameIntake(a, b);
  if (a.kind === "output-measured" && b.kind === "output-measured") return sameOutput(a, b);
  if (a.kind === "irrigant-instilled" && b.kind === "irrigant-instilled") {
    return a.site === b.site && a.volume === b.volume;
  }
  if (a.kind === "chamber-emptied" && b.kind === "chamber-emptied") {
    return a.chamber === b.chamber && a.level !== undefined && a.level === b.level;
  }
  if (a.kind === "chamber-emptied") return b.kind === "output-measured" && isPoured(a, b);
  return b.kind === "chamber-emptied" && a.kind === "output-measured" && isPoured(b, a);
}

function sameBolus(a: BolusStarted, b: BolusStarted): boolean {
  return a.channel === b.channel && a.volume === b.volume;
}

type Measured = IntakeMeasured | OutputMeasured;

function sameAmount(a: Measured, b: Measured): boolean {
  return (
    a.category === b.category &&
    a.volume === b.volume &&
    a.measure?.name === b.measure?.name &&
    a.measure?.count === b.measure?.count &&
    a.from === b.from
  );
}

function sameIntake(a: IntakeMeasured, b: IntakeMeasured): boolean {
  return sameAmount(a, b) && a.item === b.item && a.line === b.line;
}

function sameOutput(a: OutputMeasured, b: OutputMeasured): boolean {
  return (
    sameAmount(a, b) &&
    a.site === b.site &&
    a.weighed?.wet === b.weighed?.wet &&
    a.weighed?.dry === b.weighed?.dry &&
    a.occurrences === b.occurrences &&
    a.returned === b.returned
  );
}

/** What a chamber held when it was emptied, charted as an amount of its site as well. */
function isPoured({ chamber, level }: ChamberEmptied, { site, volume }: OutputMeasured): boolean {
  return site === chamber && level !== undefined && volume === level;
}

/** One bag under two keys. */
function sameBag(a: BagHung, b: BagHung): boolean {
  return (
    a.bag !== b.bag &&
    a.channel === b.channel &&
    a.role === b.role &&
    a.volume === b.volume &&
    a.fluid.name === b.fluid.name
  );
}

function isDown({ bag }: BagHung, { entries }: Evidence): boolean {
  return entries.some(({ placed: { entry } }) => entry.kind === "bag-taken-down" && entry.bag === bag);
}
