/** The demo's scenario: when it takes place, and of whom it tells. */

import { describe, expect, it } from "vitest";
import { type Scenario, scenario } from "../../src/demo/scenario.js";
import { HOUR, type Instant, later, parseInstant } from "../../src/time/instant.js";

const when = (text: string): Instant => parseInstant(text) as Instant;

const IN_THE_MORNING = when("2026-03-04T10:00:00-06:00");
const AT_SHIFT_START = when("2026-03-04T07:00:00-06:00");
const LAST_MINUTE = when("2026-03-04T18:59:00-06:00");
const IN_THE_EVENING = when("2026-03-04T20:00:00-06:00");

type Entry = Scenario["encounters"][number]["posts"][number]["entries"][number];

const entriesOf = ({ posts }: Scenario["encounters"][number]): Entry[] =>
  posts.flatMap(({ entries }) => entries);
const everyEntry = ({ encounters }: Scenario): Entry[] => encounters.flatMap(entriesOf);
const timeOf = (entry: Entry): number => Date.parse(entry.at as string);

describe("when the demo takes place", () => {
  it("begins two whole shifts before the day shift that has begun", () => {
    const [first] = scenario(IN_THE_MORNING).encounters;
    expect(first?.body.admittedAt).toBe("2026-03-03T07:30:00-06:00");
    expect(first?.posts[0]?.by).toBe("nurse-day");
  });

  it("begins two whole shifts before the night shift that has begun", () => {
    const [first] = scenario(IN_THE_EVENING).encounters;
    expect(first?.body.admittedAt).toBe("2026-03-03T19:30:00-06:00");
    expect(first?.posts[0]?.by).toBe("nurse-night");
  });

  it("counts elapsed hours through the night the clocks go forward", () => {
    // The first shift starts on 7 March at 19:00 -06:00; 15 hours later it is 11:00 -05:00.
    const told = scenario(when("2026-03-08T20:00:00-05:00"));
    const change = everyEntry(told).find(({ id }) => id === "2-0300-therapy-pump-2");
    expect(change?.at).toBe("2026-03-08T11:00:00-05:00");
  });

  it.each([
    ["at the start of a shift", AT_SHIFT_START],
    ["in the middle of one", IN_THE_MORNING],
    ["in its last minute", LAST_MINUTE],
  ])("tells of nothing that is recorded or happens later than now, %s", (_, now) => {
    const { encounters } = scenario(now);
    for (const { posts, changes } of encounters) {
      for (const { recordedAt } of [...posts, ...changes]) expect(recordedAt).toBeLessThanOrEqual(now);
      for (const { recordedAt, entries } of posts) {
        for (const entry of entries.filter(({ at }) => at !== undefined)) {
          expect(timeOf(entry), String(entry.id)).toBeLessThanOrEqual(recordedAt);
        }
      }
    }
  });

  it("says the same again for the same instant", () => {
    expect(scenario(IN_THE_MORNING)).toEqual(scenario(IN_THE_MORNING));
  });

  it("only adds to what it told an hour ago", () => {
    const before = scenario(later(IN_THE_MORNING, -HOUR));
    for (const [place, { posts }] of scenario(IN_THE_MORNING).encounters.entries()) {
      const told = before.encounters[place]?.posts ?? [];
      expect(posts.slice(0, told.length)).toEqual(told);
    }
    expect(everyEntry(scenario(IN_THE_MORNING)).length).toBeGreaterThan(everyEntry(before).length);
  });
});

describe("the unit and its patients", () => {
  it("are invented, and say so", () => {
    const { unit, encounters } = scenario(IN_THE_MORNING);
    expect(unit.name).toContain("invented");
    expect(unit.shifts.map(({ label, starts }) => `${label} ${starts}`)).toEqual([
      "Day 07:00",
      "Night 19:00",
    ]);
    for (const { body } of encounters) expect(body.patient.name).toMatch(/^Demo Patient [A-Z]$/);
    expect(new Set(encounters.map(({ body }) => body.bed)).size).toBe(encounters.length);
  });

  it.each([
    ["at the start of the third shift", AT_SHIFT_START],
    ["at its end", LAST_MINUTE],
  ])("are eight at least with 250 to 400 entries, %s", (_, now) => {
    const told = scenario(now);
    expect(told.encounters.length).toBeGreaterThanOrEqual(8);
    expect(everyEntry(told).length).toBeGreaterThanOrEqual(250);
    expect(everyEntry(told).length).toBeLessThanOrEqual(400);
  });

  it("have two lines each at least", () => {
    for (const encounter of scenario(AT_SHIFT_START).encounters) {
      const lines = entriesOf(encounter).filter(({ kind }) => kind === "line-placed");
      expect(lines.length, encounter.body.id).toBeGreaterThanOrEqual(2);
    }
  });

  it("are one put in another bed and one discharged in the second shift", () => {
    const changes = scenario(AT_SHIFT_START).encounters.flatMap(({ changes }) =>
      changes.map(({ recordedAt, body }) => ({ recordedAt, body })),
    );
    expect(changes).toEqual([
      {
        recordedAt: when("2026-03-04T05:00:00-06:00"),
        body: { discharge: { at: "2026-03-04T05:00:00-06:00" } },
      },
      { recordedAt: when("2026-03-03T22:00:00-06:00"), body: { bed: "12" } },
    ]);
  });

  it("have nothing recorded before they came or after they left", () => {
    for (const { body, posts, changes } of scenario(LAST_MINUTE).encounters) {
      const left = changes.find((change) => "discharge" in change.body)?.recordedAt ?? LAST_MINUTE;
      for (const { recordedAt } of posts) {
        expect(recordedAt, body.id).toBeGreaterThan(Date.parse(body.admittedAt));
        expect(recordedAt, body.id).toBeLessThanOrEqual(left);
      }
    }
  });
});
