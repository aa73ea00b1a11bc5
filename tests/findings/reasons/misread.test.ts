/** What was charted otherwise than it was: the total, the channel, the digits or the time of a reading. */

import { describe, expect, test } from "vitest";
import { likelyReasons } from "../../../src/findings/reasons/likely.js";
import type { ReasonKind } from "../../../src/findings/reasons/reason.js";
import { at, hang, mL, mLPerHour, on, pump, rate, start, type Told } from "../../infusion/bedside.js";
import { disagreeing, read, reasonOf, running, settledBy } from "./disagreeing.js";

/** What a reason of a kind amends, having made sure that the last reading told then agrees. */
function amended(kind: ReasonKind, told: Told[]) {
  const found = reasonOf(likelyReasons(disagreeing(told)), kind);
  expect(found, `a reason of the kind ${kind}`).toBeDefined();
  expect(settledBy(told, found!).outcome).toBe("agrees");
  const [proposal] = found!.proposals;
  expect(proposal?.do).toBe("amend");
  return proposal as Extract<typeof proposal, { do: "amend" }>;
}

/** 137.5 mL of an antibiotic at 150 mL/h from 08:30, 55 minutes in which the primary waits. */
const antibiotic: Told[] = [
  hang("08:30", "antibiotic", 137.5, "secondary"),
  on("08:30", "secondary-started", {
    rate: mLPerHour(150),
    volumeToInfuse: mL(137.5),
    whenDone: "resume-primary",
  }),
];

describe("another total", () => {
  test("what the secondary total shows, charted as the primary's", () => {
    // At 10:00 the primary ran 65 of 120 minutes at 100 mL/h: 108.3 mL.
    const told = [...running(100), ...antibiotic, read("10:00", 108.3), read("12:00", 137.5)];
    expect(amended("other-total", told)).toMatchObject({ target: "e7", replacement: { total: "secondary" } });
  });

  test("the sum of both, charted as the primary's", () => {
    // 308.3 + 137.5 = 445.8.
    const told = [...running(100), ...antibiotic, read("10:00", 108.3), read("12:00", 445.8)];
    expect(amended("other-total", told).replacement).toMatchObject({ total: "combined" });
  });

  test("a combined total is the only one of its channel", () => {
    const told = [
      ...running(100).map((entry) =>
        entry.kind === "channel-connected" ? { ...entry, totals: "combined" as const } : entry,
      ),
      ...[read("10:00", 200, "combined"), read("12:00", 300, "combined")],
    ];
    expect(reasonOf(likelyReasons(disagreeing(told)), "other-total")).toBeUndefined();
  });
});

describe("another channel", () => {
  const second: Told[] = [
    pump("07:00", "pump-2"),
    hang("07:00", "glucose", 500, "primary", "pump-2"),
    start("08:00", 42, {}, "pump-2"),
  ];

  test("what pump-2 shows after four hours at 42 mL/h", () => {
    const told = [...running(100), ...second, read("10:00", 200), read("12:00", 168)];
    expect(amended("other-channel", told).replacement).toMatchObject({ channel: "pump-2", volume: mL(168) });
  });

  test("not where pump-2 shows something else", () => {
    const told = [...running(100), ...second, read("10:00", 200), read("12:00", 178)];
    expect(reasonOf(likelyReasons(disagreeing(told)), "other-channel")).toBeUndefined();
  });
});

describe("a digit", () => {
  test.each([
    // 125 mL/h from 08:00: 625 mL at 13:00.
    ["two swapped", 265, 625],
    ["one taken for another", 925, 625],
    ["one left out", 65, 625],
    ["one too many", 6625, 625],
    ["the point in another place", 62.5, 625],
  ])("%s: %d mL for %d mL", (_, charted, right) => {
    const told = [...running(125), read("10:00", 250), read("13:00", charted)];
    expect(amended("digits", told)).toMatchObject({
      target: "e5",
      replacement: { kind: "total-read", total: "primary", volume: mL(right), at: at("13:00") },
    });
  });

  test("no display shows a nought in front of a number", () => {
    // Nothing was expected, and 100 without its 1 would be 00.
    const told = [...running(100), read("10:00", 0, "secondary"), read("12:00", 100, "secondary")];
    const found = reasonOf(likelyReasons(disagreeing(told)), "digits");
    expect(found?.sentence ?? "").not.toContain("too many");
  });

  test("none where no slip of one digit comes near", () => {
    // 400 mL were expected; with one digit more, or the point moved, 3 mL come to 93 at most.
    const told = [...running(100), read("10:00", 200), read("12:00", 3)];
    expect(reasonOf(likelyReasons(disagreeing(told)), "digits")).toBeUndefined();
  });
});

describe("a time", () => {
  test("a reading a quarter of an hour later than charted, at 200 mL/h", () => {
    // 400 mL at 10:00 and 450 mL in 2 h 15 min more.
    const told = [...running(200), read("10:00", 400), read("12:00", 850)];
    expect(amended("time-of-reading", told).replacement).toMatchObject({ at: at("12:15"), volume: mL(850) });
  });

  test("later than charted, by what is charted after it: 10 min at 200 and 10 at 400 mL/h are 100 mL", () => {
    const told = [...running(200), read("10:00", 400), rate("12:10", 400), read("12:00", 900)];
    expect(amended("time-of-reading", told).replacement).toMatchObject({ at: at("12:20") });
  });

  test("later than charted, and not beyond the next clear", () => {
    // 50 mL more are a quarter of an hour at 200 mL/h, but by 12:15 the total had been cleared.
    const cleared = on("12:10", "totals-reset", { totals: ["primary"] });
    const told = [...running(200), read("10:00", 400), cleared, read("12:00", 850)];
    const { replacement } = amended("time-of-reading", told);
    expect(replacement.at).toBeGreaterThan(at("12:00"));
    expect(replacement.at).toBeLessThanOrEqual(at("12:10"));
  });

  test("a reading that was confirmed is proposed unconfirmed, since it is judged anew", () => {
    const last = on("12:00", "total-read", { total: "primary", volume: mL(850), confirmed: true });
    const told = [...running(200), read("10:00", 400), last];
    expect(amended("time-of-reading", told).replacement).not.toHaveProperty("confirmed");
  });

  test("a change from 60 to 120 mL/h half an hour later than charted: 30 mL less", () => {
    const told = [...running(60), read("10:00", 120), rate("11:00", 120), read("13:00", 390)];
    expect(amended("rate-change-late", told)).toMatchObject({
      target: "e5",
      replacement: { kind: "rate-changed", at: at("11:30") },
    });
  });

  test("a change charted after the reading that was before it: half an hour at 60 mL/h more", () => {
    // 120 mL at 10:00, 180 at 11:00 at 60 mL/h; changed to 120 at 10:30 they are 210.
    const told = [
      ...[...running(60), read("10:00", 120), rate("11:30", 120), read("12:00", 330)],
      read("11:00", 210),
    ];
    expect(amended("rate-change-late", told)).toMatchObject({
      target: "e5",
      replacement: { at: at("10:30") },
    });
  });

  test("of two things charted at one minute neither is moved without the other", () => {
    const told = [
      ...[...running(60), read("10:00", 120), rate("11:00", 120), on("11:00", "flow-paused")],
      ...[on("11:01", "flow-resumed"), read("13:00", 385)],
    ];
    const found = reasonOf(likelyReasons(disagreeing(told)), "rate-change-late");
    expect(found?.sentence ?? "").not.toContain("11:00");
  });
});

describe("a total read before it was cleared and charted after it", () => {
  const cleared = on("11:00", "totals-reset", { totals: ["primary"], leaveUncaptured: true });

  test("stands before the clear: 300 mL by 11:00, where 6.3 were expected at 11:05", () => {
    const told = [
      ...running(100),
      cleared,
      start("11:00", 75, { volumeToInfuse: "none" }),
      read("11:05", 300),
    ];
    const { target, replacement } = amended("read-before-clear", told);
    expect([target, replacement]).toMatchObject([
      "e6",
      { at: at("11:00"), position: "before", volume: mL(300) },
    ]);
    const [first] = likelyReasons(disagreeing(told));
    expect(first).toMatchObject({ place: 1, tied: false, reason: { kind: "read-before-clear" } });
    expect(first!.reason.sentence).toBe(
      "Before it was cleared at 11:00 the primary total should have shown 300 mL: " +
        "it may have been read then, and charted as of later.",
    );
  });

  test("is none where the total had not come so far", () => {
    const told = [...running(100), cleared, read("11:05", 345)];
    expect(reasonOf(likelyReasons(disagreeing(told)), "read-before-clear")).toBeUndefined();
  });

  test("is none over a reading, which has no clear at its mark", () => {
    const told = [...running(100), cleared, read("11:02", 3.3), read("11:05", 300)];
    expect(reasonOf(likelyReasons(disagreeing(told)), "read-before-clear")).toBeUndefined();
  });
});
