/** Days of one invented patient, infusions and what was charted beside them, and the balance they come to. */

import fc from "fast-check";
import { awayByEntry } from "../../src/balance/away.js";
import { type Balance, balanceOf } from "../../src/balance/balance.js";
import { allGivenBack } from "../../src/balance/charted.js";
import { counted } from "../../src/balance/counted.js";
import { groundOf } from "../../src/balance/ground.js";
import { intakePostings } from "../../src/balance/intake.js";
import { outputPostings } from "../../src/balance/output.js";
import type { Posting } from "../../src/balance/posting.js";
import { defaultSettings, type Settings, type Step } from "../../src/conventions/settings.js";
import { apportioned } from "../../src/infusion/apportion.js";
import { collector } from "../../src/infusion/collected.js";
import { comeUpTo, follow } from "../../src/infusion/course.js";
import type { DeliveryLost, Entry, Placed } from "../../src/infusion/entry.js";
import { inOrder } from "../../src/infusion/order.js";
import { NOTHING_KNOWN } from "../../src/infusion/state.js";
import { HOUR, type Instant, instant, later, MINUTE, type Period } from "../../src/time/instant.js";
import { BEGINS, encounterOf } from "./arbitrary.js";
import { REALISTIC } from "./scales.js";

const HALF_A_DAY = 12 * HOUR;
const ENDS = instant(BEGINS + 24 * HOUR);
const ADMITTED = instant(BEGINS + 90 * MINUTE);
const SHIFTS = [instant(BEGINS), instant(BEGINS + HALF_A_DAY)];
const split = (length: number): Period[] =>
  Array.from({ length: (24 * HOUR) / length }, (_, i) => ({
    start: instant(BEGINS + i * length),
    end: instant(BEGINS + (i + 1) * length),
  }));
export const [HOURS, BY_SHIFT, WHOLE] = [split(HOUR), split(HALF_A_DAY), split(24 * HOUR)];

/** Minutes of the day, so that ties and boundaries are common. */
const minute = fc.integer({ min: 0, max: 24 * 12 }).map((five) => five * 5);
export const mL = fc.integer({ min: 0, max: 900_000 });
const site = fc.constantFrom("bladder", "tube");

const charted = fc.oneof(
  fc.record({
    kind: fc.constant("output-measured"),
    category: fc.constantFrom("urine", "drain"),
    volume: mL,
    site: fc.option(site, { nil: undefined }),
  }),
  fc.record({
    kind: fc.constant("output-measured"),
    category: fc.constant("urine"),
    occurrences: fc.integer({ min: 1, max: 3 }),
  }),
  fc.record({ kind: fc.constant("irrigant-instilled"), site, volume: mL }),
  fc.record({
    kind: fc.constant("intake-measured"),
    category: fc.constantFrom("oral", "iv-flush", "blood-product"),
    item: fc.constantFrom(undefined, "Ice", "Pudding"),
    measure: fc.record({
      name: fc.constantFrom("cup", "ounce", "bucket"),
      count: fc.integer({ min: 1, max: 3_000 }),
    }),
  }),
  fc.record({
    kind: fc.constant("chamber-emptied"),
    chamber: fc.constant("canister"),
    category: fc.constant("gastric"),
    level: fc.option(mL, { nil: undefined }),
  }),
  fc.record({
    kind: fc.constant("delivery-lost"),
    channel: fc.constant("pump-1"),
    lasts: fc.integer({ min: 1, max: 240 }),
    volume: fc.oneof(fc.constant("unknown" as const), mL),
    reason: fc.constant("leaked"),
  }),
);

export const day = fc
  .record({
    stay: encounterOf(REALISTIC, 12),
    facts: fc.array(fc.tuple(minute, charted), { maxLength: 14 }),
  })
  .map(({ stay, facts }): Placed[] => [
    ...stay.entries,
    ...facts.map(([after, fact], i): Placed => {
      const at = instant(BEGINS + after * MINUTE);
      const spans = "lasts" in fact ? { from: later(at, -fact.lasts * MINUTE), to: at } : {};
      const entry = { ...fact, ...spans, at } as unknown as Entry;
      return { id: `fact-${i}`, sequence: 1_000 + i, source: "person", entry };
    }),
  ]);

export const fixed = () => defaultSettings;

interface Asked {
  readonly step?: number;
  readonly settingsAt?: (at: Instant) => Settings;
  readonly changes?: readonly Instant[];
}

/** The balance of a day. */
export function balance(
  entries: readonly Placed[],
  intervals: readonly Period[],
  asked: Asked = {},
): Balance {
  return balanceOf(postings(entries, intervals, asked), intervals.length);
}

/** What counts in a day's intervals, by one precision. */
export function postings(
  entries: readonly Placed[],
  intervals: readonly Period[],
  { step = 100, settingsAt = fixed, changes = [] }: Asked = {},
): Posting[] {
  const { sink, ...collected } = collector();
  const ordered = inOrder(entries).filter(({ entry }) => entry.at <= ENDS);
  let state = NOTHING_KNOWN;
  for (const placed of ordered) state = follow(state, placed, settingsAt, sink);
  comeUpTo(state, ENDS, sink);
  const ground = groundOf({
    intervals,
    anchors: SHIFTS,
    until: ENDS,
    admittedAt: ADMITTED,
    since: SHIFTS[0]!,
    stepOf: () => step as Step,
    settingsAt,
    changes,
    awayOf: awayByEntry(ordered),
  });
  const lost = ordered.filter((one): one is Placed<DeliveryLost> => one.entry.kind === "delivery-lost");
  const given = apportioned(collected);
  const everything = { ...given, entries: ordered, lost, came: collected.outputs, settingsAt };
  const { taken, irrigated } = counted(everything);
  const output = outputPostings(irrigated.outputs, ground, allGivenBack(ordered, settingsAt));
  return [...intakePostings(taken, ground), ...output];
}
