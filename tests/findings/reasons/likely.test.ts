/** The order of reasons, and what numbers alone cannot tell apart. */

import { describe, expect, test } from "vitest";
import { likelyReasons } from "../../../src/findings/reasons/likely.js";
import { at, hang, mL, mLPerHour, on, rate } from "../../infusion/bedside.js";
import { disagreeing, firstOf, read, running, settledBy } from "./disagreeing.js";

describe("what cannot be told apart shares a place", () => {
  test("100 mL more in four hours at 75 mL/h: a bolus, a rate of 100 mL/h, or a 4 taken for a 5", () => {
    const told = [...running(75), read("10:00", 150), read("14:00", 550)];
    expect(firstOf(told).sort()).toEqual(["bolus-missing", "digits", "rate-change-missing"]);
  });

  test("25 mL too little at 100 mL/h: a pause of a quarter of an hour, a secondary, a lower rate, an early reading", () => {
    const told = [...running(100), read("10:00", 200), read("14:00", 570)];
    expect(firstOf(told).sort()).toEqual(
      ["pause-missing", "rate-change-missing", "secondary-missing", "time-of-reading"].sort(),
    );
  });
});

describe("a number that only one thing explains has the first place alone", () => {
  test.each([
    [
      "half a litre more at 20 mL/h is a bolus",
      [...running(20), read("10:00", 40), read("12:00", 575)],
      "bolus-missing",
    ],
    [
      "810 for 180 mL is two digits swapped",
      [...running(60), read("10:00", 120), read("11:00", 810)],
      "digits",
    ],
    [
      "what flowed since the change of rate is a clear",
      [...running(100), read("10:00", 200), rate("11:00", 120), read("13:00", 240)],
      "clear-missing",
    ],
  ] as const)("%s", (_, told, kind) => {
    const [first] = likelyReasons(disagreeing(told));
    expect(first).toMatchObject({ place: 1, tied: false, reason: { kind } });
  });
});

describe("the list", () => {
  const told = [
    ...running(60),
    hang("08:30", "antibiotic", 50, "secondary"),
    on("08:30", "secondary-started", {
      rate: mLPerHour(100),
      volumeToInfuse: mL(50),
      whenDone: "resume-primary",
    }),
    ...[read("10:00", 90), rate("11:00", 120), read("13:00", 360)],
  ];

  test("names at most six, the best first, places counted as in a race", () => {
    const ranked = likelyReasons(disagreeing(told));
    expect(ranked.length).toBeGreaterThan(3);
    expect(ranked.length).toBeLessThanOrEqual(6);
    const weights = ranked.map(({ reason }) => reason.unlikeliness);
    expect(weights).toEqual([...weights].sort((a, b) => a - b));
    ranked.forEach(({ place, tied }, i) => {
      expect(place).toBe(ranked.findIndex((other) => other.place === place) + 1);
      expect(place).toBeLessThanOrEqual(i + 1);
      expect(tied).toBe(ranked.filter((other) => other.place === place).length > 1);
    });
  });

  test("every reason named would make the reading agree", () => {
    for (const { reason } of likelyReasons(disagreeing(told))) {
      expect(settledBy(told, reason).outcome, reason.sentence).toBe("agrees");
    }
  });

  test("is the same however often it is asked for", () => {
    const once = likelyReasons(disagreeing(told));
    expect(likelyReasons(disagreeing(told))).toEqual(once);
  });

  test("nothing that is charted happens after the reading, but for its own time", () => {
    for (const { reason } of likelyReasons(disagreeing(told))) {
      for (const proposal of reason.proposals) {
        if (proposal.do === "record") expect(proposal.entry.at).toBeLessThanOrEqual(at("13:00"));
      }
    }
  });

  test("is empty where nothing usual explains it", () => {
    // 400 mL were expected, and no digit of 9,999 comes near; nor do ten litres flow in two hours.
    const unread = [...running(100), read("10:00", 200), read("12:00", 9_999)];
    expect(likelyReasons(disagreeing(unread))).toEqual([]);
  });
});
