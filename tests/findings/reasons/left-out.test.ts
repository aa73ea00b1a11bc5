/** What nobody charted, told from a reading of the running total. Flows are of saline since 08:00. */

import { describe, expect, test } from "vitest";
import { likelyReasons } from "../../../src/findings/reasons/likely.js";
import type { ReasonKind } from "../../../src/findings/reasons/reason.js";
import type { Entry } from "../../../src/infusion/entry.js";
import { MINUTE } from "../../../src/time/instant.js";
import { at, hang, mL, mLPerHour, on, pump, rate, start, type Told } from "../../infusion/bedside.js";
import { disagreeing, read, reasonOf, running, settledBy } from "./disagreeing.js";

/** A reason of a kind for the last reading told; that what it proposes makes it agree holds for every one. */
function reason(kind: ReasonKind, told: Told[]) {
  const found = reasonOf(likelyReasons(disagreeing(told)), kind);
  expect(found, `a reason of the kind ${kind}`).toBeDefined();
  expect(settledBy(told, found!).outcome).toBe("agrees");
  return found!;
}

/** The entries a reason wants recorded. */
function recorded({ proposals }: ReturnType<typeof reason>): Entry[] {
  return proposals.flatMap((proposal) => (proposal.do === "record" ? [proposal.entry] : []));
}

describe("a rate change nobody charted", () => {
  test("100 mL more in four hours at 75 mL/h is 100 mL/h since they began", () => {
    // 150 mL at 10:00; 4 h × 100 mL/h = 400 mL.
    const told = [...running(75), read("10:00", 150), read("14:00", 550)];
    const { sentence } = reason("rate-change-missing", told);
    expect(sentence).toContain("At 100 mL/h instead of 75 mL/h from 10:00");
  });

  test("a rate of 8 mL/h typed for 80 mL/h is mended where it is charted", () => {
    // 4 h × 80 mL/h = 320 mL over the 150 mL of 10:00.
    const told = [...running(75), read("10:00", 150), rate("10:00", 8), read("14:00", 470)];
    const { proposals } = reason("rate-change-missing", told);
    expect(proposals).toEqual([
      expect.objectContaining({
        do: "amend",
        target: "e5",
        replacement: expect.objectContaining({ rate: 80_000 }),
      }),
    ]);
  });
});

describe("a pause nobody charted", () => {
  test("30 mL too little at 100 mL/h is a pause of 18 minutes, give or take what a device may be off", () => {
    const told = [...running(100), read("10:00", 200), read("14:00", 570)];
    const [paused, resumed] = recorded(reason("pause-missing", told));
    expect(paused).toMatchObject({ kind: "flow-paused", channel: "pump-1" });
    expect(resumed).toMatchObject({ kind: "flow-resumed", channel: "pump-1" });
    const minutes = (resumed!.at - paused!.at) / MINUTE;
    expect(Math.abs(minutes - 18)).toBeLessThanOrEqual(5);
  });

  test("a pause that is charted and went on two hours before the reading", () => {
    // Paused at 11:00 with 300 mL; 500 mL at 14:00 are two hours more.
    const told = [...running(100), read("10:00", 200), on("11:00", "flow-paused"), read("14:00", 500)];
    const found = reason("pause-missing", told);
    expect(found.sentence).toContain("had it gone on at 12:00 at 100 mL/h");
    expect(recorded(found)).toHaveLength(1);
  });
});

describe("what is proposed would settle the reading", () => {
  test("no bolus comes out of a bag that has run dry", () => {
    // Its 250 mL are infused by 12:00, whatever was given faster: 345 mL need another bag.
    const bag = [pump("07:00"), hang("07:00", "saline", 250), start("08:00", 100)];
    const told = [...bag, rate("09:00", 50), read("14:00", 345)];
    expect(reasonOf(likelyReasons(disagreeing(told)), "bolus-missing")).toBeUndefined();
  });

  test("no pause spans a going on that is charted, which would cut it short", () => {
    // 90 mL less than the 600 of six hours: 54 minutes, and going on is charted in the middle of those hours.
    const told = [...running(100), on("11:00", "flow-resumed"), read("14:00", 510)];
    const [paused, resumed] = recorded(reason("pause-missing", told));
    expect(paused!.at >= at("11:00") || resumed!.at <= at("11:00")).toBe(true);
  });
});

describe("a secondary nobody charted", () => {
  test("the primary waited half an hour for it", () => {
    const told = [...running(100), read("10:00", 200), read("12:00", 350)];
    const found = reason("secondary-missing", told);
    expect(found.sentence).toContain("A secondary infusion of 30 min, in which the primary waited,");
    expect(recorded(found)).toMatchObject([
      { kind: "bag-hung", role: "secondary", bag: "secondary-1" },
      { kind: "secondary-started", whenDone: "resume-primary" },
    ]);
  });

  test("the secondary total shows 100 mL where none was started", () => {
    const told = [...running(100), read("10:00", 0, "secondary"), read("12:00", 100, "secondary")];
    const found = reason("secondary-missing", told);
    expect(recorded(found)[1]).toMatchObject({ kind: "secondary-started", volumeToInfuse: mL(100) });
  });

  test("a secondary total that shows it leaves no other reason in the first place", () => {
    const told = [
      ...running(100),
      ...[read("10:00", 200), read("10:00", 0, "secondary")],
      ...[read("12:00", 100, "secondary"), read("12:00", 350)],
    ];
    const ranked = likelyReasons(disagreeing(told));
    expect(ranked[0]).toMatchObject({ place: 1, tied: false, reason: { kind: "secondary-missing" } });
  });

  test("a secondary total that agrees speaks against it", () => {
    const told = [
      ...running(100),
      ...[read("10:00", 200), read("10:00", 0, "secondary")],
      ...[read("12:00", 0, "secondary"), read("12:00", 350)],
    ];
    const ranked = likelyReasons(disagreeing(told));
    expect(ranked.filter(({ place }) => place === 1).map(({ reason }) => reason.kind)).not.toContain(
      "secondary-missing",
    );
  });
});

describe("a bolus nobody charted", () => {
  test("250 mL in a quarter of an hour, in which the 100 mL/h waited, are 225 mL more", () => {
    const told = [...running(100), read("10:00", 200), read("11:00", 525)];
    const found = reason("bolus-missing", told);
    expect(recorded(found)).toMatchObject([{ kind: "bolus-started", volume: mL(250), whenDone: "return" }]);
  });

  test("none is supposed in the secondary total, which counts no bolus", () => {
    const told = [...running(100), read("10:00", 0, "secondary"), read("12:00", 100, "secondary")];
    expect(reasonOf(likelyReasons(disagreeing(told)), "bolus-missing")).toBeUndefined();
  });
});

describe("a bag or a volume to infuse nobody charted", () => {
  test("half a litre at 100 mL/h is empty at 13:00, and the total shows two hours more", () => {
    const told = [
      ...[pump("07:00"), hang("07:00", "saline", 500), start("08:00", 100)],
      ...[read("10:00", 200), read("15:00", 700)],
    ];
    expect(recorded(reason("bag-missing", told))).toMatchObject([
      { kind: "bag-hung", bag: "saline-1", role: "primary", volume: mL(500) },
    ]);
  });

  test("a volume to infuse of 300 mL was reached at 11:00, and the flow went on", () => {
    const told = [
      ...[pump("07:00"), hang("07:00", "saline", 1_000)],
      start("08:00", 100, { volumeToInfuse: mL(300) } as Partial<Told>),
      ...[read("10:00", 200), read("15:00", 700)],
    ];
    expect(recorded(reason("bag-missing", told))).toMatchObject([
      { kind: "volume-to-infuse-set", volumeToInfuse: "none" },
    ]);
  });

  test("a keep-open rate of 10 mL/h that it did not drop to", () => {
    const told = [
      ...[pump("07:00"), hang("07:00", "saline", 1_000)],
      start("08:00", 100, { volumeToInfuse: mL(300), keepOpenRate: mLPerHour(10) } as Partial<Told>),
      ...[read("10:00", 200), read("15:00", 700)],
    ];
    reason("bag-missing", told);
  });

  test("none where no flow came to its end", () => {
    const told = [...running(75), read("10:00", 150), read("14:00", 550)];
    expect(reasonOf(likelyReasons(disagreeing(told)), "bag-missing")).toBeUndefined();
  });
});

describe("a clear nobody charted", () => {
  test("right after the last reading: three hours at 100 mL/h show as 300 mL, not 500", () => {
    const told = [...running(100), read("10:00", 200), read("13:00", 300)];
    const found = reason("clear-missing", told);
    expect(recorded(found)).toMatchObject([{ kind: "totals-reset", totals: ["primary"] }]);
    expect(found.sentence).toContain("since 10:00");
  });

  test("at the change of rate at 11:00: two hours at 120 mL/h", () => {
    const told = [...running(100), read("10:00", 200), rate("11:00", 120), read("13:00", 240)];
    expect(reason("clear-missing", told).sentence).toBe(
      "Since 11:00 240 mL were delivered: the primary total may have been cleared then.",
    );
  });

  test("a zero was read right after the clear", () => {
    const told = [...running(100), read("10:00", 200), read("13:00", 0)];
    const found = reason("clear-missing", told);
    expect(recorded(found)).toMatchObject([{ at: at("13:00") }]);
    expect(found.sentence).toBe("At 13:00 it showed nothing: the primary total may have been cleared then.");
  });

  test("both totals, where their sum is too low: an hour at 100 mL/h shows as 100 mL", () => {
    const told = [
      ...running(100),
      ...[read("10:00", 200), read("10:00", 0, "secondary")],
      read("13:00", 300, "combined"),
    ];
    expect(recorded(reason("clear-missing", told))).toMatchObject([{ totals: ["primary", "secondary"] }]);
  });

  test("a reading above what was expected is no clear", () => {
    const told = [...running(75), read("10:00", 150), read("14:00", 550)];
    expect(reasonOf(likelyReasons(disagreeing(told)), "clear-missing")).toBeUndefined();
  });
});
