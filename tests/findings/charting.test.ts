/** Entries that look wrong in themselves: rates, times, duplicates, and what fits nothing. */

import { describe, expect, it } from "vitest";
import { at, hang, mL, mLPerHour, on, pump, rate, start, type Told } from "../infusion/bedside.js";
import { findings, inDoubt, read, secondary } from "./evidence.js";

const saline = [pump("07:00"), hang("07:00", "saline-1", 1000), start("07:00", 75)];

describe("a fast secondary", () => {
  const piggyback = (rate: number, more = {}) => [
    ...saline,
    hang("09:00", "antibiotic", 250, "secondary"),
    secondary("09:00", rate, more),
  ];

  it("asks above 300 mL/h whether the primary was clamped", () => {
    expect(findings("primary-not-clamped", piggyback(300), "09:10")).toEqual([]);
    const [found] = findings("primary-not-clamped", piggyback(301), "09:10");
    expect(found).toMatchObject({ subject: "e5", channel: "pump-1", start: at("09:00") });
    expect(found!.sentence).toBe(
      "The secondary on pump-1 was started at 301 mL/h, and nobody wrote that the primary was clamped: above 300 mL/h both may flow.",
    );
    expect(found!.settledBy[0]!.proposals).toMatchObject([
      { do: "amend", target: "e5", replacement: { rate: mLPerHour(301), primaryClamped: true } },
    ]);
  });

  it("asks at once, and still when it is over", () => {
    for (const until of ["09:00", "09:20", "12:00"]) {
      expect(findings("primary-not-clamped", piggyback(500), until).map(({ subject }) => subject)).toEqual([
        "e5",
      ]);
    }
  });

  it("asks nothing once that was said, without a primary, or of a flush from the primary's bag", () => {
    expect(findings("primary-not-clamped", piggyback(500, { primaryClamped: true }), "09:10")).toEqual([]);
    const alone = [pump("07:00"), hang("09:00", "antibiotic", 250, "secondary"), secondary("09:00", 500)];
    expect(findings("primary-not-clamped", alone, "09:10")).toEqual([]);
    const flush = [...saline, secondary("09:00", 500, { volumeToInfuse: mL(50) })];
    expect(findings("primary-not-clamped", flush, "09:02")).toEqual([]);
  });
});

describe("a rate", () => {
  it("is implausible above 1,200 mL/h on a pump, not on a gravity set", () => {
    const at1200 = [...saline.slice(0, 2), start("07:00", 1200)];
    expect(findings("rate-implausible", at1200, "07:10")).toEqual([]);
    const faster = [...saline.slice(0, 2), start("07:00", 1201)];
    expect(findings("rate-implausible", faster, "07:10").map(({ sentence }) => sentence)).toEqual([
      "At 07:00 pump-1 was set to 1201 mL/h, faster than a pump runs.",
    ]);
    const gravity = [{ ...pump("07:00"), type: "gravity", totals: "none" } as Told, ...faster.slice(1)];
    expect(findings("rate-implausible", gravity, "07:10")).toEqual([]);
  });

  it("is implausible at exactly ten times or a hundredth of the one before", () => {
    const tenfold = findings("rate-implausible", [...saline, rate("08:00", 750)], "08:10");
    expect(tenfold).toMatchObject([
      {
        subject: "e4",
        sentence: "At 08:00 pump-1 was set to 750 mL/h, exactly ten times the 75 mL/h before.",
      },
    ]);
    expect(findings("rate-implausible", [...saline, rate("08:00", 740)], "08:10")).toEqual([]);
    const hundredth = findings("rate-implausible", [...saline, rate("08:00", 0.75)], "08:10");
    expect(hundredth[0]!.sentence).toContain("exactly a hundredth of the 75 mL/h before");
  });

  it("is compared with the rate of its own role only", () => {
    const told = [
      ...saline,
      hang("08:00", "antibiotic", 250, "secondary"),
      secondary("08:00", 200),
      { ...rate("08:10", 20), role: "secondary" } as Told,
      rate("09:20", 70),
    ];
    expect(findings("rate-implausible", told, "09:30").map(({ subject }) => subject)).toEqual(["e6"]);
  });

  it("is borne out by the next reading that agrees, once it has run a quarter of an hour", () => {
    const slow = [pump("07:00"), hang("07:00", "drug", 500), start("07:00", 5), rate("08:00", 50)];
    // 5 mL and then 50 mL an hour: 17.5 at 08:15, 30 at 08:30.
    expect(findings("rate-implausible", [...slow, read("08:14", 16.7)], "08:30")).toHaveLength(1);
    expect(findings("rate-implausible", [...slow, read("08:30", 30)], "08:30")).toEqual([]);
    expect(findings("rate-implausible", [...slow, read("08:30", 7.5)], "08:30")).toHaveLength(1);
  });

  it("is no slip where a device reports what it runs at", () => {
    const told = [...saline, rate("08:00", 750)];
    expect(findings("rate-implausible", told, "08:10", { sources: { 3: "device" } })).toEqual([]);
  });
});

describe("a time ahead of its recording", () => {
  it("is found beyond five minutes", () => {
    const told = [...saline, rate("08:00", 80)];
    const ahead = (clock: string) =>
      findings("time-implausible", told, "09:00", { recorded: { 3: { at: clock } } });
    expect(ahead("07:55")).toEqual([]);
    expect(ahead("07:54")).toMatchObject([
      {
        subject: "e4",
        channel: "pump-1",
        sentence: "This says it happened at 08:00, and was recorded 6 min before that, at 07:54.",
      },
    ]);
  });
});

describe("late entries", () => {
  const told = [...saline, rate("09:00", 80), rate("10:00", 90), rate("16:00", 60)];
  const shifts = { day: ["07:00", "15:00"] } as const;

  it("are one note per person and shift, hung on those", () => {
    const recorded = {
      3: { at: "14:00", by: "nurse-1" },
      4: { at: "14:00", by: "nurse-1" },
      5: { at: "20:00", by: "nurse-1" },
    };
    const found = findings("late-entry", told, "21:00", { recorded, shifts });
    expect(found.map(({ subject, shift, entries }) => [subject, shift, entries])).toEqual([
      ["2026-03-04/day/nurse-1", "2026-03-04/day", ["e4", "e5"]],
      ["2026-03-04/other/nurse-1", "2026-03-04/other", ["e6"]],
    ]);
    expect(found[0]!.severity).toBe("note");
    expect(found[0]!.sentence).toBe(
      "2 entries of one person were recorded more than 2 h 0 min after the fact, up to 5 h 0 min.",
    );
    const two = { ...recorded, 4: { at: "14:00", by: "nurse-2" } };
    expect(
      findings("late-entry", told, "21:00", { recorded: two, shifts }).map(({ subject }) => subject),
    ).toEqual(["2026-03-04/day/nurse-1", "2026-03-04/day/nurse-2", "2026-03-04/other/nurse-1"]);
  });

  it("are none at two hours, and none of a device", () => {
    expect(findings("late-entry", told, "21:00", { recorded: { 3: { at: "11:00" } }, shifts })).toEqual([]);
    const given = { recorded: { 3: { at: "11:01" } }, shifts };
    expect(findings("late-entry", told, "21:00", given)).toHaveLength(1);
    expect(findings("late-entry", told, "21:00", { ...given, sources: { 3: "device" } })).toEqual([]);
  });

  it("are the same note when an earlier fact is charted later still", () => {
    const more = [...told, rate("08:00", 77)];
    const recorded = { 3: { at: "14:00" }, 6: { at: "20:00" } };
    const found = findings("late-entry", more, "21:00", { recorded, shifts });
    expect(found.map(({ subject, entries }) => [subject, entries])).toEqual([
      ["2026-03-04/day/nurse-1", ["e7", "e4"]],
    ]);
  });
});

describe("the same thing charted twice", () => {
  const bolus = (clock: string, volume: number) =>
    on(clock, "bolus-started", { rate: mLPerHour(600), volume: mL(volume), whenDone: "return" });
  const drank = (clock: string, volume: number, more = {}): Told =>
    ({ at: clock, kind: "intake-measured", category: "oral", volume: mL(volume), ...more }) as Told;

  it("is a bolus of one volume on one channel within three minutes", () => {
    const [found] = findings(
      "possible-duplicate",
      [...saline, bolus("08:00", 50), bolus("08:03", 50)],
      "09:00",
    );
    expect(found).toMatchObject({
      subject: "e5",
      channel: "pump-1",
      entries: ["e5", "e4"],
      sentence: "The same bolus of 50 mL on pump-1 was charted twice, at 08:00 and at 08:03.",
    });
    expect(inDoubt(found!)).toBe(50);
    expect(found!.settledBy[0]!.proposals).toEqual([{ do: "void", target: "e5", reason: "charted twice" }]);
    for (const other of [bolus("08:04", 50), bolus("08:03", 40)]) {
      expect(findings("possible-duplicate", [...saline, bolus("08:00", 50), other], "09:00")).toEqual([]);
    }
  });

  it("is an amount of one kind within five minutes, unless it was sent together", () => {
    const told = [drank("08:00", 200), drank("08:05", 200)];
    expect(findings("possible-duplicate", told, "09:00")).toHaveLength(1);
    expect(findings("possible-duplicate", [drank("08:00", 200), drank("08:06", 200)], "09:00")).toEqual([]);
    const otherCup = [drank("08:00", 200, { item: "tea" }), drank("08:05", 200, { item: "water" })];
    expect(findings("possible-duplicate", otherCup, "09:00")).toEqual([]);
    const together = { recorded: { 0: { at: "08:10" }, 1: { at: "08:10" } } };
    expect(findings("possible-duplicate", told, "09:00", together)).toEqual([]);
    const byTwo = { recorded: { 0: { at: "08:10" }, 1: { at: "08:10", by: "nurse-2" } } };
    expect(findings("possible-duplicate", told, "09:00", byTwo)).toHaveLength(1);
  });

  it("is the later recorded of the two, whichever happened first", () => {
    const told = [drank("08:05", 200), drank("08:00", 200)];
    expect(findings("possible-duplicate", told, "09:00").map(({ entries }) => entries)).toEqual([
      ["e2", "e1"],
    ]);
  });

  it("is one bag under two keys, unless the first came down", () => {
    const told = [...saline, hang("07:02", "saline-9", 1000)];
    expect(findings("possible-duplicate", told, "09:00").map(({ subject }) => subject)).toEqual(["e4"]);
    const down = { at: "07:01", kind: "bag-taken-down", bag: "saline-1" } as Told;
    expect(findings("possible-duplicate", [...told, down], "09:00")).toEqual([]);
    expect(findings("possible-duplicate", [...saline, hang("07:02", "b", 500)], "09:00")).toEqual([]);
  });

  it("is left alone when a device reported one of them: that counts once by itself", () => {
    const told = [...saline, bolus("08:00", 50), bolus("08:01", 50)];
    expect(findings("possible-duplicate", told, "09:00", { sources: { 4: "device" } })).toEqual([]);
  });
});

describe("an entry that fits nothing", () => {
  it("is found with why, until an earlier entry gives it sense", () => {
    const lonely = [rate("08:00", 80)];
    const [found] = findings("entry-without-effect", lonely, "08:00");
    expect(found).toMatchObject({
      severity: "attention",
      subject: "e1",
      channel: "pump-1",
      sentence: "It changes nothing: no primary is programmed.",
    });
    const made = [...lonely, pump("07:00"), hang("07:00", "saline-1", 500), start("07:00", 60)];
    expect(findings("entry-without-effect", made, "08:00")).toEqual([]);
  });

  it("is a total read in the minute of the connection, which may have been read after it", () => {
    const told = [pump("07:00"), read("07:00", 20)];
    const [found] = findings("entry-without-effect", told, "08:00");
    expect(found!.sentence).toBe(
      "It changes nothing: at 07:00 it counts before the channel is connected, unless it says that it was read after.",
    );
    expect(found!.settledBy[0]!.proposals).toMatchObject([
      { do: "amend", target: "e2", replacement: { kind: "total-read", volume: 20_000, position: "after" } },
    ]);
    const amended = [pump("07:00"), read("07:00", 20, { position: "after" })];
    expect(findings("entry-without-effect", amended, "08:00")).toEqual([]);
    // An hour before, nothing was there to be read.
    const [before] = findings("entry-without-effect", [pump("07:00"), read("06:00", 20)], "08:00");
    expect(before!.settledBy[0]!.proposals).toBeUndefined();
  });

  it("is an end in the minute of its beginning, which an order puts after it", () => {
    const ended = on("07:00", "flow-stopped");
    const [found] = findings("entry-without-effect", [...saline, ended], "08:00");
    expect(found!.sentence).toBe(
      "It changes nothing: at 07:00 it counts before what was started in the same minute, which goes on.",
    );
    expect(found!.settledBy[0]!.proposals).toMatchObject([
      { do: "amend", replacement: { kind: "flow-stopped", order: 1 } },
    ]);
    expect(
      findings("entry-without-effect", [...saline, on("07:00", "flow-stopped", { order: 1 })], "08:00"),
    ).toEqual([]);
  });

  it("is not one that a device reported as well", () => {
    const told = [...saline, rate("08:00", 80), rate("08:01", 80)];
    expect(findings("entry-without-effect", told, "08:10", { sources: { 4: "device" } })).toEqual([]);
  });
});
