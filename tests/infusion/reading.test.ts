/** What a reading comes to, and which of several readings is the one that was wrong. */

import { describe, expect, test } from "vitest";
import { follows, hang, mL, mLPerHour, on, pump, start, type Told } from "./bedside.js";

const read = (clock: string, volume: number): Told =>
  on(clock, "total-read", { total: "primary", volume: mL(volume), confirmed: true });

/** 100 mL/h from a litre since 08:00, read right at 09:00. */
const hundred: Told[] = [
  pump("07:00"),
  hang("07:00", "saline", 1_000),
  start("08:00", 100, { volumeToInfuse: "none" }),
  read("09:00", 100),
];

/** The readings by their outcome and, where they set another aside, which (entries count from e1). */
function judged(told: readonly Told[], until: string): string[] {
  return follows(told, until).readings.map(({ outcome, setsAside }) =>
    setsAside === null ? outcome : `${outcome}, not ${setsAside}`,
  );
}

describe("a reading that was wrong", () => {
  test("is set aside by the next, which agrees over the one before: 130 mL, then 70", () => {
    const told = [...hundred, read("10:00", 230), read("11:00", 300)];
    expect(judged(told, "12:00")).toEqual(["agrees", "disputed", "agrees, not e5"]);
  });

  test("is set aside though it agreed: 106 mL in the first hour just do, 92 in the next do not", () => {
    const told = [...hundred, read("10:00", 206), read("11:00", 298)];
    expect(judged(told, "12:00")).toEqual(["agrees", "agrees", "agrees, not e5"]);
  });

  test("is set aside though the next agrees with it too, where some minutes explain it: 110 mL, then 96", () => {
    // 110 mL are 8.3 beyond the charted minute, 3.3 beyond the tolerance: three minutes at 100 mL/h are 5.
    // Over the three hours since the start 213 mL are 11.3 beyond it, of 10.
    const told = [...hundred.slice(0, -1), read("09:00", 103), read("10:00", 213), read("11:00", 309)];
    expect(judged(told, "12:00")).toEqual(["agrees", "disputed", "agrees, not e5"]);
  });

  test("stands where no minutes explain it and the next goes on from it: 130 mL, then 100", () => {
    const told = [...hundred, read("10:00", 230), read("11:00", 330), read("12:00", 430)];
    expect(judged(told, "13:00")).toEqual(["agrees", "disputed", "agrees", "agrees"]);
  });

  test("stands where the next shows as much again: 115 mL, then 115", () => {
    const told = [...hundred, read("10:00", 215), read("11:00", 330)];
    expect(judged(told, "12:00")).toEqual(["agrees", "disputed", "disputed"]);
  });
});

test("a reading lower than the one before never agrees, however little: 99 mL after 100, and nothing flowed", () => {
  const told = [...hundred, on("09:00", "flow-paused"), read("09:10", 99)];
  expect(judged(told, "10:00")).toEqual(["agrees", "disputed"]);
  expect(judged([...told.slice(0, -1), read("09:10", 100)], "10:00")).toEqual(["agrees", "agrees"]);
});

describe("minutes off that are none of both spans together", () => {
  const twice = (first: number, second: number) =>
    judged([...hundred.slice(0, -1), read("09:00", first), read("10:00", second)], "11:00");

  test("are not asked about: 99 mL, then 109", () => {
    expect(twice(99, 208)).toEqual(["agrees", "agrees, not e4"]);
  });

  test("are not those of a reading that shows just what was computed: 100 mL, then 108", () => {
    expect(twice(100, 208)).toEqual(["agrees", "disputed"]);
  });
});

describe("what a charted minute may hide", () => {
  test("a bolus charted a minute before it began: less of it by the first reading, more by the second", () => {
    // 1,000 mL/h are 16.7 mL in that minute. By 12:20 the bolus gave 100 mL of its 250, not 116.7.
    const told = [
      pump("07:00"),
      hang("07:00", "saline", 1_000),
      start("11:20", 25, { volumeToInfuse: "none" }),
      on("12:13", "bolus-started", { rate: mLPerHour(1_000), volume: mL(250), whenDone: "return" }),
      // 54 min at 25 mL/h are 22.5 mL; then 150 mL and 91 min, 37.9 mL.
      read("12:20", 122.5),
      read("14:00", 310.4),
    ];
    expect(judged(told, "15:00")).toEqual(["agrees", "agrees"]);
  });

  const twoHours: Told[] = [
    pump("07:00"),
    hang("07:00", "saline", 1_000),
    start("09:00", 80, { volumeToInfuse: "none" }),
    read("10:00", 80),
    hang("10:00", "antibiotic", 250, "secondary"),
    on("10:00", "secondary-started", {
      rate: mLPerHour(125),
      volumeToInfuse: mL(250),
      whenDone: "resume-primary",
    }),
  ];

  test("how long a secondary took: by 5 % slower, two hours are 126 min, and 76 mL/h gave 68 mL since", () => {
    expect(judged([...twoHours, read("13:00", 148)], "14:00")).toEqual(["agrees", "agrees"]);
  });

  test("but not as little after a secondary of a minute: 68 mL of 80", () => {
    const brief = [...twoHours.slice(0, -1), on("10:00", "secondary-started", { ...BRIEF })];
    expect(judged([...brief, read("11:01", 148)], "12:00")).toEqual(["agrees", "disputed"]);
  });
});

const BRIEF = { rate: mLPerHour(300), volumeToInfuse: mL(5), whenDone: "resume-primary" };
