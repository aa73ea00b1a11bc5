/**
 * From a story to what is recorded of it: times of the story become instants of three shifts, nurses the
 * one who has the shift, and what lies after `now` is left out.
 */

import { type Instant, instant, later } from "../time/instant.js";
import { type ShiftSpan, type Stretch, shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import type { ChartBody } from "../wire/charts.js";
import type { Author, Change, Charted, Post, ScenarioEncounter, UnitBody } from "./bodies.js";
import { type Copied, hourAfter, hoursOf } from "./copied.js";
import {
  type Clock,
  idOf,
  type Said,
  type Story,
  type StoryTime,
  shiftOf,
  sinceStart,
  type Told,
  type Turn,
} from "./story.js";

export const UNIT: UnitBody = {
  id: "demo-unit",
  name: "Demo unit (invented)",
  zone: "America/Chicago",
  shifts: [
    { name: "day", label: "Day", starts: "07:00" },
    { name: "night", label: "Night", starts: "19:00" },
  ],
};

/** Where the stories lie in time, who has which shift, and up to when they are told. */
export interface Telling {
  readonly now: Instant;
  readonly instantOf: (time: StoryTime) => Instant;
  readonly clock: Clock;
  readonly nurseAt: (time: StoryTime) => Author;
}

const STRETCH: Stretch = { from: instant(0), unit: UNIT.id, zone: UNIT.zone, shifts: UNIT.shifts };

function before(shift: ShiftSpan): ShiftSpan {
  return shiftAt([STRETCH], later(shift.start, -1));
}

/** The last shift that had ended by `now`. */
export function lastWholeShift(now: Instant): ShiftSpan {
  return before(shiftAt([STRETCH], now));
}

/** The shift that contains `now` and the two before it, told up to `now`. */
export function tellingUpTo(now: Instant): Telling {
  const third = shiftAt([STRETCH], now);
  const second = before(third);
  const first = before(second);
  const names = { 1: first.name, 2: second.name, 3: third.name };
  const instantOf = (time: StoryTime): Instant => later(first.start, sinceStart(time));
  return {
    now,
    instantOf,
    clock: (time) => formatInstant(instantOf(time), UNIT.zone),
    nurseAt: (time) => (names[shiftOf(time)] === "day" ? "nurse-day" : "nurse-night"),
  };
}

/** One stay as far as it is told. */
export function encounterOf(story: Story, telling: Telling): ScenarioEncounter {
  const { id, bed, patient, kilograms } = story;
  return {
    body: {
      id,
      unit: UNIT.id,
      bed,
      patient: { identifier: id.toUpperCase(), name: patient },
      admittedAt: telling.clock(story.admitted),
      ...(kilograms !== undefined && { admissionWeight: { value: kilograms, unit: "kg" } }),
    },
    posts: story.told
      .filter((told) => telling.instantOf(told.recordedAt) <= telling.now)
      .map((told) => postOf(told, telling)),
    changes: (story.turns ?? [])
      .filter((turn) => telling.instantOf(turn.at) <= telling.now)
      .map((turn) => changeOf(turn, telling)),
    charts: (story.copied ?? [])
      .filter((copied) => telling.instantOf(copied.recordedAt) <= telling.now)
      .map((copied) => chartOf(copied, telling)),
  };
}

function postOf({ recordedAt, by, said }: Told, telling: Telling): Post {
  return {
    recordedAt: telling.instantOf(recordedAt),
    by: by === "device" ? "device" : telling.nurseAt(recordedAt),
    entries: said.map((each) => entryOf(each, recordedAt, telling.clock)),
  };
}

function entryOf(said: Said, recordedAt: StoryTime, clock: Clock): Post["entries"][number] {
  const time = said.at ?? recordedAt;
  const { name, kind, fields } = said;
  const happened = said.timed ? { at: clock(time) } : {};
  return {
    id: idOf(name, time),
    kind,
    ...happened,
    ...(typeof fields === "function" ? fields(clock) : fields),
  };
}

function changeOf({ at, change }: Turn, telling: Telling): Change {
  return {
    recordedAt: telling.instantOf(at),
    by: telling.nurseAt(at),
    body: "bed" in change ? { bed: change.bed } : { discharge: { at: telling.clock(at) } },
  };
}

function chartOf(copied: Copied, { instantOf, clock }: Telling): Charted {
  const { id, source, from, rows, recordedAt } = copied;
  const bound = (hour: number) => clock(hourAfter(from, hour));
  const [start, end] = [bound(0), bound(hoursOf(copied))];
  const figures = rows.flatMap(({ row, hours, total }) => [
    ...hours.map((volume, hour) => ({ row, start: bound(hour), end: bound(hour + 1), volume })),
    { row, start, end, volume: total },
  ]) as ChartBody["figures"];
  return {
    recordedAt: instantOf(recordedAt),
    by: "charge-nurse",
    body: { id, source, from: start, to: end, figures },
  };
}
