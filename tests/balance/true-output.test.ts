/** What comes out counts once, when it is emptied, and irrigant that comes back counts as no output. */

import { describe, expect, it } from "vitest";
import { at, follows, hang, inMl, mL, start, type Told } from "../infusion/bedside.js";
import { outputsTold as counted, irrigation, outputs } from "./counting.js";

const out = (clock: string, more: object): Told =>
  ({ at: clock, kind: "output-measured", category: "urine", ...more }) as Told;
const bladder = (clock: string, volume: number): Told => out(clock, { site: "bladder", volume: mL(volume) });
const irrigant = (clock: string, volume: number, site = "bladder"): Told => ({
  at: clock,
  kind: "irrigant-instilled",
  site,
  volume: mL(volume),
});
const chamber = (clock: string, doing: "placed" | "read" | "emptied", level?: number): Told =>
  ({
    at: clock,
    kind: `chamber-${doing}`,
    chamber: "bag",
    ...(doing === "placed" && { category: "urine" }),
    ...(level !== undefined && { level: mL(level) }),
  }) as Told;

const retained = (told: readonly Told[]): number =>
  inMl(irrigation(told, "00:00", "23:00").find(({ site }) => site === "bladder")?.retained ?? (0n as never));

describe("an output", () => {
  it("counts by volume, measure or weight (1 g for 1 mL), less what was given back", () => {
    expect(
      counted([
        out("07:00", { volume: mL(320) }),
        out("08:00", { measure: { name: "cup", count: 500 } }),
        out("09:00", { weighed: { wet: 212_500, dry: 38_000 } }),
        out("10:00", { category: "gastric", volume: mL(120), returned: mL(80) }),
      ]),
    ).toEqual(["07:00 320", "08:00 120", "09:00 174.5", "10:00 40"]);
  });

  it("nobody measured counts as having happened, in a measure nobody knows as well, which is noted", () => {
    const told = [
      out("07:00", { occurrences: 3 }),
      out("08:00", { measure: { name: "bucket", count: 1_000 } }),
    ];
    expect(counted(told)).toEqual(["07:00 0 and 3 unmeasured", "08:00 0 and 1 unmeasured"]);
    expect(follows(told, "09:00").notes.map(({ why }) => why)).toEqual([
      "the unit knows no measure called bucket, so the amount counts nowhere",
    ]);
  });
});

describe("irrigant", () => {
  it("is taken off what its site drains, when that is emptied, and is retained until then", () => {
    const told = [irrigant("08:00", 1_000), irrigant("10:00", 500)];
    expect(counted(told)).toEqual([]);
    expect(retained(told)).toBe(1_500);
    expect(counted([...told, bladder("12:00", 2_100)])).toEqual(["12:00 600"]);
    expect(retained([...told, bladder("12:00", 2_100)])).toBe(0);
  });

  it("that went in after the emptying waits for the next one", () => {
    const told = [irrigant("08:00", 1_000), bladder("09:00", 1_200), irrigant("10:00", 300)];
    expect(counted([...told, bladder("11:00", 350)])).toEqual(["09:00 200", "11:00 50"]);
  });

  it("of one site is not taken off another, nor off what names no site", () => {
    const told = [irrigant("08:00", 1_000), out("09:00", { volume: mL(200) }), bladder("10:00", 1_100)];
    expect(counted(told)).toEqual(["09:00 200", "10:00 100"]);
  });

  it("beyond what came out makes the output negative, and says by how much", () => {
    const [only] = outputs([irrigant("08:00", 1_000), bladder("09:00", 800)]);
    expect([inMl(only!.volume), inMl(only!.exceeds)]).toEqual([-200, 200]);
  });

  it("is still to come off the next emptying where something came out unmeasured", () => {
    const told = [irrigant("08:00", 1_000), out("09:00", { site: "bladder", occurrences: 1 })];
    expect(counted([...told, bladder("10:00", 1_300)])).toEqual(["09:00 0 and 1 unmeasured", "10:00 300"]);
  });

  it("charted late, before an emptying, is taken off that emptying", () => {
    const told = [bladder("12:00", 1_500), irrigant("11:00", 1_000)];
    expect(counted(told)).toEqual(["12:00 500"]);
  });
});

describe("a chamber", () => {
  it("counts what it gained at each reading and at its emptying, in all once", () => {
    const told = [
      chamber("07:00", "placed"),
      chamber("08:00", "read", 100),
      chamber("09:00", "read", 180),
      chamber("10:00", "emptied", 250),
      chamber("11:00", "read", 40),
    ];
    expect(counted(told)).toEqual(["08:00 100", "09:00 80", "10:00 70", "11:00 40"]);
  });

  it("of an irrigated site counts nothing before it is emptied", () => {
    const told = [
      chamber("07:00", "placed"),
      irrigant("07:00", 600, "bag"),
      chamber("08:00", "read", 500),
      chamber("10:00", "emptied", 900),
    ];
    expect(counted(told.slice(0, 3))).toEqual([]);
    expect(counted(told)).toEqual(["10:00 300"]);
  });

  it("read before the irrigant went in takes nothing back: the emptying counts the rest", () => {
    const told = [
      chamber("07:00", "placed"),
      chamber("08:00", "read", 300),
      irrigant("09:00", 1_000, "bag"),
      chamber("10:00", "emptied", 1_200),
    ];
    // 1,200 came, 1,000 of it irrigant: 200 in all, 300 of which were charted at 08:00.
    expect(counted(told)).toEqual(["08:00 300", "10:00 -100"]);
    // Since 08:00 1,000 mL went in and 900 came.
    expect(outputs(told).map(({ exceeds, since }) => [inMl(exceeds), since])).toEqual([
      [0, null],
      [100, at("08:00")],
    ]);
  });

  it("emptied unread is left out, but not where somebody looked two minutes before", () => {
    const placed = [chamber("07:00", "placed"), chamber("08:00", "read", 100)];
    expect(counted([...placed, chamber("10:00", "emptied")])).toEqual([
      "08:00 100",
      "10:00 0 and 1 unmeasured",
    ]);
    expect(counted([...placed, chamber("08:02", "emptied")])).toEqual(["08:00 100", "08:02 0"]);
  });
});

describe("a line that irrigates", () => {
  const line = {
    at: "07:00",
    kind: "line-placed",
    line: "cbi",
    site: "bladder",
    route: "irrigation",
  } as Told;
  const set = (type: "pump" | "gravity"): Told[] => [
    line,
    {
      at: "07:00",
      kind: "channel-connected",
      channel: "pump-1",
      line: "cbi",
      type,
      totals: "none",
      clearsOn: [],
    },
    hang("07:00", "saline-3000", 3_000),
  ];

  it("stands at its site with what it has given by the emptying", () => {
    const told = [...set("pump"), start("07:00", 50), bladder("11:00", 500), bladder("12:00", 80)];
    // Four hours at 50 mL/h are 200 mL, the fifth another 50.
    expect(counted(told)).toEqual(["11:00 300", "12:00 30"]);
  });

  it("wide open leaves the output at most what it says, until a level tells how much ran in", () => {
    const open = [...set("gravity"), start("07:00", 1, { rate: "unknown" } as Partial<Told>)];
    const [unsure] = outputs([...open, bladder("10:00", 900)]);
    expect([inMl(unsure!.volume), unsure!.unsure]).toEqual([900, true]);
    const level = { at: "10:00", kind: "bag-level-read", bag: "saline-3000", remaining: mL(2_300) } as Told;
    const [sure] = outputs([...open, level, bladder("10:00", 900)]);
    expect([inMl(sure!.volume), sure!.unsure]).toEqual([200, false]);
  });
});
