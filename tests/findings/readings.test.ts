/** Readings that ask something: they disagree, or somebody must have cleared a total unseen. */

import { describe, expect, it } from "vitest";
import { findingsIn } from "../../src/findings/find.js";
import { at, hang, on, pump, rate, start, type Told } from "../infusion/bedside.js";
import { evidence, findings, inDoubt, read, secondary } from "./evidence.js";

const saline = [pump("07:00"), hang("07:00", "saline-1", 1000), start("07:00", 100)];

describe("a reading that disagrees", () => {
  // 100 mL/h for 2 h is 200 mL; 5 % of it is 10 mL, and a minute of grain at either end 1.67 mL each.
  it("is a question with what was read, what was computed, and both decisions", () => {
    const [found, ...more] = findings("reading-disagrees", [...saline, read("09:00", 230)], "09:00");
    expect(more).toEqual([]);
    expect(found).toMatchObject({
      severity: "question",
      subject: "e4",
      channel: "pump-1",
      start: at("07:00"),
      end: at("09:00"),
      entries: ["e4", "e1"],
      sentence:
        "On pump-1 the primary total counted 230 mL from 07:00 to 09:00, and 200 mL was computed: 30 mL more.",
    });
    expect(inDoubt(found!)).toBe(30);
    expect(found!.settledBy.map(({ proposals }) => proposals)).toEqual([
      undefined,
      [{ do: "record", entry: { kind: "variance-settled", at: at("09:00"), reading: "e4", use: "reading" } }],
      [
        {
          do: "record",
          entry: { kind: "variance-settled", at: at("09:00"), reading: "e4", use: "computed" },
        },
      ],
    ]);
  });

  it("is none within the tolerance: 211 for 200 computed", () => {
    expect(findings("reading-disagrees", [...saline, read("09:00", 211)], "09:00")).toEqual([]);
  });

  it("is none once a person decided, either way", () => {
    for (const settled of ["reading", "computed"]) {
      const told = [...saline, read("09:00", 230, { settled })];
      expect(findings("reading-disagrees", told, "09:00")).toEqual([]);
    }
  });

  it("goes away when the entry that explains it is recorded late: 60 mL more from 08:00", () => {
    const told = [...saline, read("09:00", 260), rate("08:00", 160)];
    expect(findings("reading-disagrees", told, "09:00")).toEqual([]);
  });

  it("goes away when the next reading shows that it was misread", () => {
    const told = [...saline, read("09:00", 230), read("10:00", 300)];
    expect(findings("reading-disagrees", told, "10:00")).toEqual([]);
  });

  it("stays one question while readings stray the same way: 30 and 40 mL more are 70", () => {
    const told = [...saline, read("09:00", 230), read("11:00", 470)];
    const found = findings("reading-disagrees", told, "11:00");
    expect(found.map(({ subject, entries }) => [subject, entries])).toEqual([["e4", ["e4", "e5", "e1"]]]);
    expect(inDoubt(found[0]!)).toBe(70);
    expect(found[0]!.end).toBe(at("11:00"));
    expect(found[0]!.sentence).toBe(
      "On pump-1 the primary total, read 2 times, counted 470 mL from 07:00 to 11:00, and 400 mL was computed: 70 mL more.",
    );
    expect(found[0]!.settledBy[1]!.proposals).toHaveLength(2);
  });

  it("is another question when the next one strays the other way", () => {
    const told = [...saline, read("09:00", 230), read("11:00", 370)];
    expect(findings("reading-disagrees", told, "11:00").map(({ subject }) => subject)).toEqual(["e4", "e5"]);
  });

  it("is another question after one that agreed", () => {
    const told = [...saline, read("09:00", 230), read("10:00", 330), read("12:00", 570)];
    expect(findings("reading-disagrees", told, "12:00").map(({ subject }) => subject)).toEqual(["e4", "e6"]);
  });
});

describe("a device that disagrees", () => {
  const byDevice = { sources: { 3: "device", 4: "device" } } as const;

  it("asks once, however often it goes on to say the same", () => {
    const told = [...saline, read("09:00", 230), read("10:00", 330)];
    const found = findings("reading-disagrees", told, "10:00", byDevice);
    expect(found.map(({ subject }) => subject)).toEqual(["e4"]);
    expect(inDoubt(found[0]!)).toBe(30);
    expect(found[0]!.sentence).toBe(
      "On pump-1 the primary total, read 2 times, counted 330 mL from 07:00 to 10:00, and 300 mL was computed: 30 mL more.",
    );
    // Once it is decided about the first one the second follows from it.
    expect(found[0]!.settledBy[1]!.proposals).toHaveLength(1);
  });

  it("asks about more when it goes on to stray: 30 mL more, and 60 more since", () => {
    const told = [...saline, read("09:00", 230), read("10:00", 390)];
    const found = findings("reading-disagrees", told, "10:00", byDevice);
    expect(found.map(({ subject, entries }) => [subject, entries])).toEqual([["e4", ["e4", "e5", "e1"]]]);
    expect(inDoubt(found[0]!)).toBe(90);
    expect(found[0]!.sentence).toContain("read 2 times, counted 390 mL from 07:00 to 10:00");
    expect(found[0]!.settledBy[1]!.proposals).toHaveLength(2);
  });

  it("counts once what it says again after that: 90 mL more are still 90", () => {
    const told = [...saline, read("09:00", 230), read("10:00", 390), read("11:00", 490)];
    const [found] = findings("reading-disagrees", told, "11:00", {
      sources: { ...byDevice.sources, 5: "device" },
    });
    expect(inDoubt(found!)).toBe(90);
    expect(found!.sentence).toContain("read 3 times, counted 490 mL from 07:00 to 11:00");
  });

  it("asks no more of all it said once a person reads what was computed, though it strayed on", () => {
    const told = [...saline, read("09:00", 230), read("10:00", 390), read("11:00", 400)];
    expect(findings("reading-disagrees", told, "11:00", byDevice)).toEqual([]);
  });

  it("has another question when the total is lower than it was, while the first one waits", () => {
    const told = [...saline, read("08:00", 100), read("09:00", 230), read("10:00", 40)];
    const given = { sources: { 4: "device", 5: "device" } } as const;
    expect(findings("reading-disagrees", told, "10:00", given).map(({ subject }) => subject)).toEqual(["e5"]);
    expect(findings("unrecorded-clear", told, "10:00", given).map(({ subject }) => subject)).toEqual(["e6"]);
  });

  it("asks no more when a person reads what was computed", () => {
    const told = [...saline, read("09:00", 230), read("10:00", 330), read("11:00", 400)];
    expect(findings("reading-disagrees", told, "11:00", byDevice)).toEqual([]);
  });

  it("hands its question over to the person who confirms it", () => {
    const told = [...saline, read("09:00", 230), read("10:00", 330), read("11:00", 430)];
    const found = findings("reading-disagrees", told, "11:00", byDevice);
    expect(found.map(({ subject }) => subject)).toEqual(["e6"]);
  });
});

describe("a sum of both totals, read on a channel that keeps them apart", () => {
  const piggyback = [...saline, hang("09:00", "antibiotic", 100, "secondary"), secondary("09:00", 200)];
  const sum = (clock: string, volume: number): Told => read(clock, volume, { total: "combined" });

  // By 10:00: 100 mL/h for 2 h, 100 mL of the secondary in half an hour, 50 mL of the primary.
  it("asks when it is not their sum, and not when it is", () => {
    expect(findings("reading-disagrees", [...piggyback, sum("10:00", 350)], "10:00")).toEqual([]);
    const [found] = findings("reading-disagrees", [...piggyback, sum("10:00", 400)], "10:00");
    expect(found!.subject).toBe("e6");
    expect(inDoubt(found!)).toBe(50);
    // It moves nothing, so to use what was read would be to do nothing.
    expect(found!.settledBy.map(({ text }) => text)).toEqual([
      "An entry that explains it, late or amended.",
      "Use what was computed.",
    ]);
  });

  it("repeats itself: 50 mL more an hour later are still 50", () => {
    const found = findings(
      "reading-disagrees",
      [...piggyback, sum("10:00", 400), sum("11:00", 500)],
      "11:00",
    );
    expect(found.map(({ subject }) => subject)).toEqual(["e6"]);
    expect(inDoubt(found[0]!)).toBe(50);
  });

  it("was misread when the next one agrees", () => {
    const told = [...piggyback, sum("10:00", 400), sum("11:00", 450)];
    expect(findings("reading-disagrees", told, "11:00")).toEqual([]);
  });

  it("asks nothing beside the total that is off", () => {
    const told = [...piggyback, read("10:00", 300), sum("10:00", 400)];
    const found = findings("reading-disagrees", told, "10:00", { sources: { 5: "device" } });
    expect(found.map(({ subject }) => subject)).toEqual(["e6"]);
  });
});

describe("a total lower than it was", () => {
  const told = [...saline, read("09:00", 200), read("12:00", 100)];

  // 300 mL was computed since 09:00, of which the device shows 100: 200 went with the clear, at 11:00.
  it("was cleared at the minute that leaves what it shows", () => {
    const [found, ...more] = findings("unrecorded-clear", told, "12:00");
    expect(more).toEqual([]);
    expect(found).toMatchObject({ severity: "question", subject: "e5", entries: ["e5", "e4"] });
    expect(inDoubt(found!)).toBe(200);
    expect(found!.sentence).toBe(
      "The primary total of pump-1 was 100 mL at 12:00, after 200 mL at 09:00 and 300 mL computed since: " +
        "it was cleared and nobody wrote that down, or it was misread.",
    );
    expect(found!.settledBy).toEqual([
      { text: "The clear, charted at its time, or an amendment of the reading if it was misread." },
    ]);
    expect(findings("reading-disagrees", told, "12:00")).toEqual([]);
  });

  it("may have been switched off, where that clears it", () => {
    const [connected, ...rest] = told;
    const forgets = { ...connected, clearsOn: ["power-off"] } as never;
    const [found] = findings("unrecorded-clear", [forgets, ...rest], "12:00");
    expect(found!.settledBy[1]!.text).toBe(
      "If it was switched off, which clears its totals: the clear with the cause power-off, at that time.",
    );
  });

  it("agrees once the clear is recorded, and only a note is left of the loss", () => {
    const clear = on("11:00", "totals-reset", { totals: ["primary"], leaveUncaptured: true });
    expect(evidence([...told, clear], "12:00").collected.readings.at(-1)!.outcome).toBe("agrees");
    expect(findings("unrecorded-clear", [...told, clear], "12:00")).toEqual([]);
    const [lost] = findings("totals-lost", [...told, clear], "12:00");
    expect(lost!.severity).toBe("note");
  });

  it("is one question with what a device goes on to say", () => {
    const more = [...told, read("13:00", 200)];
    const found = findings("unrecorded-clear", more, "13:00", { sources: { 4: "device", 5: "device" } });
    expect(found.map(({ subject }) => subject)).toEqual(["e5"]);
  });

  it("is explained by no clear where less was computed than it shows: 150 after 50 mL", () => {
    const soon = [...saline, read("09:00", 200), read("09:30", 150)];
    const [found] = findings("unrecorded-clear", soon, "09:30");
    // The increment is 50 less, and 50 mL was computed.
    expect(inDoubt(found!)).toBe(100);
  });

  it("is a zero that nobody can confirm, until a clear at its own instant is recorded", () => {
    const zero = [...saline, read("09:00", 0)];
    const [found] = findings("unrecorded-clear", zero, "09:00");
    expect(inDoubt(found!)).toBe(200);
    const clear = on("09:00", "totals-reset", { totals: ["primary"], leaveUncaptured: true });
    expect(findings("unrecorded-clear", [...zero, clear], "09:00")).toEqual([]);
  });

  it("is no question after a clear that was recorded", () => {
    const clear = on("11:00", "totals-reset", { totals: ["primary"], leaveUncaptured: true });
    expect(findings("unrecorded-clear", [...told, clear], "12:00")).toEqual([]);
  });

  it("has the same volume in doubt when it is recorded, without the flows, as when it is asked for", () => {
    const asked = evidence(told, "12:00");
    const recorded = { ...asked, collected: { ...asked.collected, flows: [] } };
    const volumes = [asked, recorded].map((one) => findingsIn(one, "recording").map(inDoubt));
    expect(volumes).toEqual([[200], [200]]);
  });
});
