/** Running totals that are about to be lost, were lost, or were not read when the shift ended. */

import { describe, expect, it } from "vitest";
import { at, hang, mL, mLPerHour, on, pump, rate, start } from "../infusion/bedside.js";
import { codes, findings, inDoubt, read, secondary } from "./evidence.js";

const saline = [pump("07:00"), hang("07:00", "saline-1", 1000), start("07:00", 100)];
const stop = (clock: string) => on(clock, "flow-stopped");

describe("a total at risk", () => {
  it("bothers nobody while the channel simply runs", () => {
    expect(codes(saline, "10:00")).toEqual([]);
  });

  it("speaks up when nothing has flowed for more than an hour", () => {
    const told = [...saline, stop("09:00")];
    expect(findings("totals-at-risk", told, "10:00")).toEqual([]);
    const [found] = findings("totals-at-risk", told, "10:05");
    expect(found).toMatchObject({ severity: "attention", subject: "e1", start: at("07:00") });
    expect(inDoubt(found!)).toBe(200);
    expect(found!.sentence).toBe(
      "200 mL of the primary total of pump-1 is not written down since 07:00, and nothing has flowed for 1 h 5 min.",
    );
    expect(found!.settledBy[0]!.proposals).toEqual([
      { do: "read", entry: { kind: "total-read", at: at("10:05"), channel: "pump-1", total: "primary" } },
    ]);
  });

  it("is quiet once it is read", () => {
    const told = [...saline, stop("09:00"), read("10:05", 200)];
    expect(findings("totals-at-risk", told, "10:05")).toEqual([]);
  });

  it("speaks up a quarter of an hour before the infusion ends, and not before: 1,000 mL at 100 is 17:00", () => {
    expect(findings("totals-at-risk", saline, "16:44")).toEqual([]);
    const [found] = findings("totals-at-risk", saline, "16:45");
    expect(found!.sentence).toContain("the infusion ends at 17:00");
    expect(inDoubt(found!)).toBe(975);
  });

  it("goes on when the infusion has ended, until the total is read or something flows again", () => {
    const [found] = findings("totals-at-risk", saline, "17:05");
    expect(found!.sentence).toContain("the infusion ended at 17:00");
    expect(found!.subject).toBe("e1");
    expect(findings("totals-at-risk", [...saline, read("17:05", 1000)], "17:05")).toEqual([]);
    expect(findings("totals-at-risk", [...saline, hang("17:00", "saline-2", 1000)], "17:05")).toEqual([]);
  });

  it("does not ask again for what was read within the hour before", () => {
    expect(findings("totals-at-risk", [...saline, read("16:00", 900)], "16:50")).toEqual([]);
  });

  it("says nothing of an end that goes on at a keep-open rate", () => {
    const told = [...saline.slice(0, 2), start("07:00", 100, { keepOpenRate: 5_000 } as never)];
    expect(findings("totals-at-risk", told, "16:50")).toEqual([]);
  });

  it("speaks up at once when the channel is disconnected, and asks for no 2 mL", () => {
    const away = (clock: string) => on(clock, "channel-disconnected");
    expect(findings("totals-at-risk", [...saline, stop("08:00"), away("08:00")], "08:00")).toHaveLength(1);
    const little = [...saline.slice(0, 2), start("07:00", 4), stop("07:30"), away("07:30")];
    expect(findings("totals-at-risk", little, "07:30")).toEqual([]);
  });

  it("is one finding for two totals unread since one entry", () => {
    const told = [
      ...saline,
      hang("08:00", "antibiotic", 100, "secondary"),
      secondary("08:00", 200),
      stop("09:00"),
    ];
    const found = findings("totals-at-risk", told, "10:30");
    // An hour of the primary and the half after the secondary: 150; and 100 of the secondary.
    expect(found.map((one) => [one.subject, inDoubt(one)])).toEqual([["e1", 250]]);
    expect(found[0]!.sentence).toContain("primary and secondary totals");
    expect(found[0]!.settledBy[0]!.proposals).toHaveLength(2);
  });

  it("leaves it to the reading in question that the total is not read", () => {
    const told = [...saline, stop("09:00"), read("09:00", 150)];
    const given = { sources: { 4: "device" } } as const;
    expect(findings("totals-at-risk", told, "10:30", given)).toEqual([]);
    expect(findings("reading-disagrees", told, "10:30", given)).toHaveLength(1);
    const zero = [...saline, stop("09:00"), read("09:00", 0)];
    expect(codes(zero, "10:30")).toEqual(["unrecorded-clear"]);
  });
});

describe("a total that was lost", () => {
  const change = (clock: string, more = {}) => on(clock, "therapy-changed", more);

  it("hangs on the clear and asks for a reading from before it", () => {
    const [found] = findings("totals-lost", [...saline, change("08:30")], "09:00");
    expect(found).toMatchObject({
      severity: "attention",
      subject: "e4",
      start: at("07:00"),
      end: at("08:30"),
      sentence:
        "The primary total of pump-1 was cleared at 08:30 with 150 mL not written down since 07:00: that volume is computed only.",
    });
    expect(found!.settledBy[0]!.proposals).toEqual([
      {
        do: "read",
        entry: {
          kind: "total-read",
          at: at("08:30"),
          channel: "pump-1",
          total: "primary",
          position: "before",
        },
      },
    ]);
  });

  it("is settled by a late reading that stands before the clear", () => {
    const told = [...saline, change("08:30"), read("08:30", 150, { position: "before" })];
    expect(findings("totals-lost", told, "09:00")).toEqual([]);
  });

  it("says where it was since the device was switched off", () => {
    const off = on("08:30", "totals-reset", { totals: ["primary"], cause: "power-off" });
    expect(findings("totals-lost", [...saline, off], "09:00")[0]!.sentence).toBe(
      "The primary total of pump-1 was cleared at 08:30 when the device was switched off, with 150 mL not written " +
        "down since 07:00: that volume is computed only.",
    );
  });

  it("is a note where a reason was given", () => {
    const [found] = findings("totals-lost", [...saline, change("08:30", { leaveUncaptured: true })], "09:00");
    expect(found!.severity).toBe("note");
  });

  it("is nothing at 2 mL, and something above", () => {
    const slow = (rate: number) => [...saline.slice(0, 2), start("07:00", rate), change("08:00")];
    expect(findings("totals-lost", slow(2), "09:00")).toEqual([]);
    expect(findings("totals-lost", slow(2.1), "09:00")).toHaveLength(1);
  });

  it("is nothing after two minutes of flow, and something after three", () => {
    const soon = (clock: string) => [...saline.slice(0, 2), start("07:00", 600), change(clock)];
    expect(findings("totals-lost", soon("07:02"), "09:00")).toEqual([]);
    expect(findings("totals-lost", soon("07:03"), "09:00")).toHaveLength(1);
  });

  it("is something after a bolus, however short: 14 mL at 1,200 mL/h are 42 s", () => {
    const bolus = (clock: string) =>
      on(clock, "bolus-started", { rate: mLPerHour(1_200), volume: mL(14), whenDone: "return" });
    const idle = saline.slice(0, 2);
    const [found] = findings("totals-lost", [...idle, bolus("07:00"), change("07:01")], "09:00");
    expect(inDoubt(found!)).toBe(14);
    // Read after it, it is but the minute after that.
    const known = [...saline, bolus("08:00"), read("08:01", 114.3), change("08:02")];
    expect(findings("totals-lost", known, "09:00")).toEqual([]);
  });

  it("is nothing that a device said and that waits or was decided: 150 of 100, and then the clear", () => {
    const told = (more = {}) => [...saline, read("08:00", 150, more), change("08:00")];
    const given = { sources: { 3: "device" } } as const;
    expect(codes(told(), "09:00", given)).toEqual(["reading-disagrees"]);
    expect(codes(told({ settled: "computed" }), "09:00", given)).toEqual([]);
    expect(codes(told({ settled: "reading" }), "09:00", given)).toEqual([]);
  });

  it("is what flowed since a reading that counts for nothing", () => {
    const told = [...saline, read("08:00", 150, { settled: "computed" }), change("10:00")];
    const [found] = findings("totals-lost", told, "11:00", { sources: { 3: "device" } });
    expect(found).toMatchObject({ start: at("08:00"), entries: ["e5", "e4"] });
    expect(inDoubt(found!)).toBe(200);
    expect(found!.sentence).toContain("with 200 mL not written down since 08:00");
  });

  it("is all of it where the reading was a zero: that says nothing of what it had counted", () => {
    const told = [...saline, read("08:00", 0, { position: "before" }), change("08:00")];
    const [found] = findings("totals-lost", told, "09:00", { sources: { 3: "device" } });
    expect(inDoubt(found!)).toBe(100);
  });

  it("is a note where the reason stands in a person's report of what the device told", () => {
    const told = (more = {}) => [...saline, change("08:30"), change("08:31", more)];
    const given = { sources: { 3: "device" } } as const;
    const severities = (more?: object) =>
      findings("totals-lost", told(more), "09:00", given).map(({ severity }) => severity);
    expect(severities()).toEqual(["attention"]);
    expect(severities({ leaveUncaptured: true })).toEqual(["note"]);
  });

  it("is one finding of both totals", () => {
    const told = [
      ...saline,
      hang("08:00", "antibiotic", 100, "secondary"),
      secondary("08:00", 200),
      change("09:00"),
    ];
    const found = findings("totals-lost", told, "09:00");
    expect(found.map((one) => [one.subject, inDoubt(one)])).toEqual([["e6", 250]]);
  });
});

describe("the end of a shift", () => {
  const shifts = { day: ["07:00", "15:00"] } as const;
  const unread = (told: Parameters<typeof findings>[1], until = "15:30") =>
    findings("no-reading-at-shift-end", told, until, { shifts });

  it("without a reading is found once the handover is over", () => {
    expect(unread(saline, "15:29")).toEqual([]);
    const [found] = unread(saline);
    expect(found).toMatchObject({
      subject: "2026-03-04/day",
      shift: "2026-03-04/day",
      channel: "pump-1",
      sentence:
        "Nobody read the primary total of pump-1 at the end of the shift, 15:00: 800 mL of the shift is computed only.",
    });
    expect(inDoubt(found!)).toBe(800);
  });

  it("is satisfied by a reading during the handover, and by none before it", () => {
    expect(unread([...saline, read("14:30", 750)])).toEqual([]);
    expect(unread([...saline, read("15:30", 850)])).toEqual([]);
    const [found] = unread([...saline, read("14:29", 748.333)]);
    // What nobody wrote down since: 31 minutes at 100 mL/h.
    expect(inDoubt(found!)).toBeCloseTo(51.667, 3);
  });

  it("is satisfied later as well while nothing more flows", () => {
    const told = [...saline, on("14:50", "flow-stopped"), read("15:45", 783.3)];
    expect(unread(told, "15:45")).toEqual([]);
    expect(unread([...saline, read("15:45", 875)], "15:45")).toHaveLength(1);
  });

  it("asks nothing of a channel that gave nothing in the shift", () => {
    const before = [...saline, on("14:00", "flow-stopped"), read("14:00", 700)];
    expect(
      findings("no-reading-at-shift-end", before, "23:30", { shifts: { evening: ["15:00", "23:00"] } }),
    ).toEqual([]);
  });

  it("counts of each shift only what flowed in it", () => {
    const bag = [pump("07:00"), hang("07:00", "saline-1", 3000), start("07:00", 100), rate("15:00", 50)];
    const both = { ...shifts, evening: ["15:00", "23:00"] } as const;
    const found = findings("no-reading-at-shift-end", bag, "23:30", { shifts: both });
    expect(found.map((one) => [one.subject, inDoubt(one)])).toEqual([
      ["2026-03-04/day", 800],
      ["2026-03-04/evening", 400],
    ]);
  });

  it("leaves it to the total still at risk, and to the one that was lost", () => {
    const stopped = [...saline, on("14:00", "flow-stopped")];
    expect(codes(stopped, "15:30", { shifts })).toEqual(["totals-at-risk"]);
    const cleared = [...saline, on("15:20", "therapy-changed")];
    expect(codes(cleared, "15:30", { shifts })).toEqual(["totals-lost"]);
  });
});
