/** Bags that ran dry, gave more than they held, or hold what nobody can account for. */

import { describe, expect, it } from "vitest";
import { at, hang, mL, on, pump, rate, start, type Told } from "../infusion/bedside.js";
import { codes, findings, inDoubt, read, secondary } from "./evidence.js";

const saline = [pump("07:00"), hang("07:00", "saline-1", 100), start("07:00", 100)];
const level = (clock: string, bag: string, remaining: number, method = "scale"): Told =>
  ({ at: clock, kind: "bag-level-read", bag, remaining: mL(remaining), method }) as Told;
const down = (clock: string, bag: string, remaining?: number): Told =>
  ({
    at: clock,
    kind: "bag-taken-down",
    bag,
    ...(remaining !== undefined && { remaining: mL(remaining) }),
  }) as Told;

describe("a bag that ran dry", () => {
  it("is found when nobody was there a quarter of an hour later", () => {
    expect(findings("bag-ran-dry", saline, "08:15")).toEqual([]);
    const [found] = findings("bag-ran-dry", saline, "08:16");
    expect(found).toMatchObject({
      subject: "e2",
      channel: "pump-1",
      start: at("08:00"),
      entries: ["e2", "e3"],
      sentence:
        "The bag saline-1 on pump-1 was computed to be empty at 08:00, 16 min ago, and nothing recorded since says what happened.",
    });
    expect(found!.settledBy[1]!.proposals).toEqual([
      { do: "record", entry: { kind: "flow-stopped", at: at("08:00"), channel: "pump-1" } },
    ]);
  });

  it("is settled by the end it proposes, and by the next bag in time", () => {
    expect(findings("bag-ran-dry", [...saline, on("08:00", "flow-stopped")], "08:30")).toEqual([]);
    expect(findings("bag-ran-dry", [...saline, hang("08:00", "saline-2", 500)], "08:30")).toEqual([]);
  });

  it("is the one finding of its end, and of what it gave beyond its label", () => {
    const told = [...saline.slice(0, 2), start("07:00", 100, { volumeToInfuse: "none" } as never)];
    expect(findings("bag-overdrawn", told, "08:05")).toHaveLength(1);
    // 110 mL with the overfill are gone at 08:06.
    expect(codes([...told, read("08:05", 108)], "08:30")).toEqual(["bag-ran-dry"]);
  });

  it("is no bag that still holds what the volume to infuse left in it", () => {
    const told = [...saline.slice(0, 2), start("07:00", 100, { volumeToInfuse: mL(50) } as never)];
    expect(findings("end-unconfirmed", told, "08:00")).toHaveLength(1);
    expect(findings("bag-ran-dry", told, "08:00")).toEqual([]);
  });
});

describe("a secondary's bag that is empty", () => {
  it("is an end nobody confirmed, not a bag that ran dry", () => {
    const alone = [pump("07:00"), hang("07:00", "antibiotic", 100, "secondary"), secondary("07:00", 200)];
    expect(findings("end-unconfirmed", alone, "08:00")).toHaveLength(1);
    expect(findings("bag-ran-dry", alone, "08:00")).toEqual([]);
  });
});

describe("a bag that gave more than it held", () => {
  const endless = [...saline.slice(0, 2), start("07:00", 100, { volumeToInfuse: "none" } as never)];

  it("is a note, hung on its hanging, that a correction of its contents settles", () => {
    const [found] = findings("bag-overdrawn", endless, "08:05");
    expect(found).toMatchObject({
      severity: "note",
      subject: "e2",
      entries: ["e2", "e3"],
      start: at("08:00"),
      sentence: expect.stringMatching(
        /^The bag saline-1 on pump-1 gave what it was said to hold by 08:00, and 8\.333 mL more are computed/,
      ),
    });
    expect(inDoubt(found!)).toBeCloseTo(8.333, 3);
    const added = { at: "07:30", kind: "bag-adjusted", bag: "saline-1", volume: mL(20) } as Told;
    expect(findings("bag-overdrawn", [...endless, added], "08:05")).toEqual([]);
  });

  // A twentieth of 105.25 mL is 5.26: a device that slow is no finding.
  it.each([
    ["08:03", 0],
    ["08:04", 1],
  ])("is none within the tolerance of a reading: at %s there are %d", (until, count) => {
    expect(findings("bag-overdrawn", endless, until)).toHaveLength(count);
  });

  describe("on a gravity set that was looked at", () => {
    const drip = [
      { ...pump("07:00"), type: "gravity", totals: "none" } as Told,
      hang("07:00", "saline-1", 500),
      start("07:00", 100, { volumeToInfuse: "none" } as never),
      { at: "11:00", kind: "bag-level-read", bag: "saline-1", remaining: mL(60) } as Told,
    ];

    // 60 mL at 11:00 last until 11:36; a twentieth of what was computed since then is 3 mL.
    it("hangs on the level, by which its tolerance is reckoned as well", () => {
      expect(findings("bag-overdrawn", drip, "11:38")).toMatchObject([
        { subject: "e4", entries: ["e4", "e3"] },
      ]);
    });

    it("is one finding with the bag that ran dry then", () => {
      const about = codes(drip, "13:00").filter(
        (code) => code.startsWith("bag-") && code !== "bag-unaccounted",
      );
      expect(about).toEqual(["bag-ran-dry"]);
    });
  });

  it("is one for each bag that lasted too long, whatever was hung afterwards", () => {
    const next = [hang("08:05", "saline-2", 100), hang("09:10", "saline-3", 100)];
    const found = findings("bag-overdrawn", [...endless, ...next], "09:30");
    expect(found.map(({ subject }) => subject)).toEqual(["e2", "e4"]);
    expect(found.map(inDoubt)).toEqual([8.333, 8.333]);
  });

  it("is none where the next bag is hung a little late", () => {
    expect(findings("bag-overdrawn", [...endless, hang("08:03", "saline-2", 100)], "08:30")).toEqual([]);
  });

  it("is one at once where somebody takes out more than there was", () => {
    const taken = { at: "07:30", kind: "bag-adjusted", bag: "saline-1", volume: -mL(60) } as Told;
    const [found] = findings("bag-overdrawn", [...endless, taken], "07:31");
    expect(found).toMatchObject({ subject: "e4", start: at("07:30") });
  });
});

describe("a bag taken down with much in it", () => {
  const litre = [pump("07:00"), hang("07:00", "saline-1", 1000), start("07:00", 100)];

  it("is found above a tenth of its label, when nobody wrote what was left", () => {
    const [found] = findings("bag-unaccounted", [...litre, down("15:59", "saline-1")], "16:00");
    expect(found).toMatchObject({ severity: "attention", subject: "e4" });
    // 8 h 59 min at 100 mL/h leave 101.667 mL.
    expect(inDoubt(found!)).toBeCloseTo(101.667, 3);
    expect(findings("bag-unaccounted", [...litre, down("16:00", "saline-1")], "16:00")).toEqual([]);
  });

  it("is accounted for by what remained, and when it hangs again", () => {
    expect(findings("bag-unaccounted", [...litre, down("09:00", "saline-1", 790)], "10:00")).toEqual([]);
    const again = [...litre, down("09:00", "saline-1"), hang("09:10", "saline-1", 1000)];
    expect(findings("bag-unaccounted", again, "10:00")).toEqual([]);
  });
});

describe("a level on a pump", () => {
  const litre = [pump("07:00"), hang("07:00", "saline-1", 1000), start("07:00", 100)];

  // The scale of a 1,000 mL bag may be off by 20 %; a weighed one by 5 %, but a tenth is anybody's.
  it("is found beyond what its method can tell", () => {
    expect(findings("bag-unaccounted", [...litre, level("09:00", "saline-1", 600)], "09:00")).toEqual([]);
    const [found] = findings("bag-unaccounted", [...litre, level("09:00", "saline-1", 599)], "09:00");
    expect(found).toMatchObject({
      severity: "attention",
      subject: "e4",
      sentence:
        "The bag saline-1 held 599 mL at 09:00, and 800 mL was computed to be left: 201 mL is missing.",
    });
    const weighed = (remaining: number) => [...litre, level("09:00", "saline-1", remaining, "weighed")];
    expect(findings("bag-unaccounted", weighed(700), "09:00")).toEqual([]);
    expect(findings("bag-unaccounted", weighed(699), "09:00")).toHaveLength(1);
  });

  it("repeats itself: the finding stays on the first and tells the last", () => {
    const told = [...litre, level("09:00", "saline-1", 550), level("10:00", "saline-1", 440)];
    const found = findings("bag-unaccounted", told, "10:00");
    expect(found.map((one) => [one.subject, inDoubt(one)])).toEqual([["e4", 260]]);
  });

  it("was misread when the next one agrees", () => {
    const told = [...litre, level("09:00", "saline-1", 550), level("10:00", "saline-1", 690)];
    expect(findings("bag-unaccounted", told, "10:00")).toEqual([]);
  });

  it("is told by the reading that strays with it", () => {
    const told = [...litre, level("10:00", "saline-1", 450), read("10:00", 550)];
    expect(codes(told, "10:00")).toEqual(["reading-disagrees"]);
  });
});

describe("a level of a gravity set", () => {
  const gravity = [
    { ...pump("07:00"), type: "gravity", totals: "none", clearsOn: [] } as Told,
    hang("07:00", "saline-1", 1000),
    start("07:00", 100),
  ];

  // Counted drops make 300 mL in three hours; 60 of them are 20 %.
  it("is a note when it is more than a fifth from what was computed", () => {
    expect(findings("bag-unaccounted", [...gravity, level("10:00", "saline-1", 640)], "10:00")).toEqual([]);
    const [found] = findings("bag-unaccounted", [...gravity, level("10:00", "saline-1", 639)], "10:00");
    expect(found!.severity).toBe("note");
    expect(inDoubt(found!)).toBe(61);
  });

  it("is no note where the rate is not known", () => {
    const open = { ...rate("08:00", 1), rate: "unknown" } as Told;
    expect(findings("bag-unaccounted", [...gravity, open, level("10:00", "saline-1", 300)], "10:00")).toEqual(
      [],
    );
  });
});
