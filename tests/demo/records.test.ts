/** The demo's records: that they hang together, that the API takes them, and what they tell of. */

import { describe, expect, it } from "vitest";
import { type Scenario, scenario } from "../../src/demo/scenario.js";
import { type Instant, MINUTE, parseInstant } from "../../src/time/instant.js";
import { parseEntries } from "../../src/wire/entry.js";

const when = (text: string): Instant => parseInstant(text) as Instant;

const AT_SHIFT_START = when("2026-03-04T07:00:00-06:00");
const LAST_MINUTE = when("2026-03-04T18:59:00-06:00");

type Entry = Scenario["encounters"][number]["posts"][number]["entries"][number];

const entriesOf = ({ posts }: Scenario["encounters"][number]): Entry[] =>
  posts.flatMap(({ entries }) => entries);
const everyEntry = ({ encounters }: Scenario): Entry[] => encounters.flatMap(entriesOf);
const timeOf = (entry: Entry): number => Date.parse(entry.at as string);

describe("the records", () => {
  const told = scenario(LAST_MINUTE);

  it("are all taken by the API, post by post", () => {
    for (const { posts } of told.encounters) {
      for (const { entries } of posts) expect(parseEntries({ entries })).not.toHaveProperty("faults");
    }
  });

  it("stand in the order in which they were recorded", () => {
    for (const { posts } of told.encounters) {
      const times = posts.map(({ recordedAt }) => recordedAt);
      expect(times).toEqual([...times].sort((a, b) => a - b));
    }
  });

  it("have ids of their own within an encounter", () => {
    for (const encounter of told.encounters) {
      const ids = entriesOf(encounter).map(({ id }) => id);
      expect(new Set(ids).size, encounter.body.id).toBe(ids.length);
    }
  });

  it("name only lines, channels and bags that are there by then", () => {
    const declaring = { line: "line-placed", channel: "channel-connected", bag: "bag-hung" } as const;
    for (const encounter of told.encounters) {
      const entries = entriesOf(encounter).filter(({ at }) => at !== undefined);
      for (const entry of entries) {
        for (const [field, kind] of Object.entries(declaring)) {
          if (entry[field] === undefined) continue;
          const there = entries.some(
            (other) => other.kind === kind && other[field] === entry[field] && timeOf(other) <= timeOf(entry),
          );
          expect(there, `${encounter.body.id} ${entry.id}: ${field} ${entry[field]}`).toBe(true);
        }
      }
    }
  });

  it("correct only what was recorded before, by an entry of the same kind", () => {
    for (const { posts } of told.encounters) {
      const recorded = new Map<unknown, Entry>();
      for (const { entries } of posts) {
        for (const entry of entries) {
          if (entry.entry !== undefined) expect(recorded.has(entry.entry), String(entry.id)).toBe(true);
          if (entry.kind === "entry-amended") {
            expect((entry.replacement as Entry).kind).toBe(recorded.get(entry.entry)?.kind);
          }
        }
        for (const entry of entries) recorded.set(entry.id, entry);
      }
    }
  });

  const STORY: readonly [string, (entry: Entry) => boolean][] = [
    [
      "a vasopressor titrated by weight",
      ({ kind, dose }) => kind === "rate-changed" && hasUnit(dose, "ug/kg/min"),
    ],
    ["insulin in units an hour", ({ dose }) => hasUnit(dose, "[iU]/h")],
    ["heparin in units by weight", ({ dose }) => hasUnit(dose, "[iU]/kg/h")],
    ["a bolus by dose", ({ kind, dose }) => kind === "bolus-started" && dose !== undefined],
    ["a bolus by volume", ({ kind, volume }) => kind === "bolus-started" && volume !== undefined],
    ["a secondary after which the channel waits", ({ whenDone }) => whenDone === "wait"],
    ["a pause", ({ kind }) => kind === "flow-paused"],
    ["an arterial line", ({ route }) => route === "arterial"],
    ["a line into the stomach", ({ route }) => route === "enteral"],
    ["a syringe", ({ type }) => type === "syringe"],
    ["a metered source", ({ type }) => type === "metered"],
    ["a combined total", ({ totals }) => totals === "combined"],
    ["a drip rate", ({ dripRate }) => dripRate !== undefined],
    ["a set wide open", ({ rate }) => rate === "unknown"],
    ["a keep-open rate", ({ keepOpenRate }) => keepOpenRate !== undefined],
    ["a bag begun before", ({ kind, remaining }) => kind === "bag-hung" && remaining !== undefined],
    [
      "a therapy changed without a reading",
      ({ kind, leaveUncaptured }) => kind === "therapy-changed" && !!leaveUncaptured,
    ],
    ["totals cleared", ({ kind }) => kind === "totals-reset"],
    ["a reading confirmed on the device", ({ confirmed }) => confirmed === true],
    ["an amendment", ({ kind }) => kind === "entry-amended"],
    ["a void", ({ kind }) => kind === "entry-voided"],
    ["time away with flows unknown", ({ flows }) => flows === "unknown"],
    ["red cells", ({ fluid }) => (fluid as { category?: string })?.category === "blood-product"],
    ["a drain emptied", ({ kind }) => kind === "chamber-emptied"],
    ["something unmeasured", ({ occurrences }) => occurrences !== undefined],
    ["a weighed pad", ({ weighed }) => weighed !== undefined],
    ["a weight", ({ kind }) => kind === "weight-measured"],
  ];

  it.each(STORY)("tell of %s by the end of the second shift", (_, told) => {
    expect(everyEntry(scenario(AT_SHIFT_START)).some(told)).toBe(true);
  });

  it("include reports of devices, and entries recorded hours late", () => {
    const posts = scenario(AT_SHIFT_START).encounters.flatMap(({ posts }) => posts);
    expect(posts.some(({ by }) => by === "device")).toBe(true);
    const late = posts.flatMap(({ recordedAt, entries }) =>
      entries.filter((entry) => recordedAt - timeOf(entry) > 120 * MINUTE),
    );
    expect(late.map(({ id }) => id)).toEqual(
      expect.arrayContaining(["2-0500-read-pump-1-primary", "1-0600-rate-pump-2", "2-0310-reset-pump-1"]),
    );
  });
});

function hasUnit(dose: unknown, unit: string): boolean {
  return (dose as { unit?: string } | undefined)?.unit === unit;
}
