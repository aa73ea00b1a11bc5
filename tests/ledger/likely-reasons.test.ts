/**
 * Which reasons are likely, by all that is known: who read it, what was read of the other total and later, and
 * what was recorded last. A litre hangs on pump-1 and has run at 100 mL/h since 07:00.
 */

import { describe, expect, it } from "vitest";
import { answered, asked, chart, findings, read, reset } from "./asking.js";
import { type Json, PUMPS, Stay } from "./stay.js";
import { amend, change, hang, line, on, pump, start, type Told } from "./telling.js";

const AT_100 = [line("07:00"), pump("07:00"), hang("07:00", "saline-1", 1_000)];

async function begun(now: string, ...more: Told[]): Promise<Stay> {
  const stay = await Stay.begun({ now });
  await stay.post([...AT_100, start("07:00", 100, { id: "start", volumeToInfuse: "none" }), ...more]);
  return stay;
}

const kinds = (reasons: Json[]) => reasons.map(({ kind }) => kind);
const MISREADINGS = ["digits", "time-of-reading", "other-total", "other-channel", "read-before-clear"];

/** What may explain the only question, likeliest first; its last ways to settle it are decisions. */
async function told(stay: Stay): Promise<string[]> {
  const [question, ...others] = (await findings(stay)).filter(({ severity }) => severity === "question");
  expect(others).toEqual([]);
  return question.settledBy.map(({ text }: Json) => text);
}

/** A request with one of its reasons, as it is told to be posted, is taken without a question. */
async function expectSettled(stay: Stay, request: readonly Told[], doubt: Json, reason: Json): Promise<void> {
  const { status } = await chart(stay, answered(request, doubt, reason), { dryRun: true });
  expect([reason.sentence, status]).toEqual([reason.sentence, 200]);
}

describe("a device", () => {
  it("misreads no digit, no other total, and is read when it says", async () => {
    const stay = await begun("09:00");
    await stay.post([read("09:00", 250)], { as: PUMPS });
    const texts = await told(stay);
    expect(texts.length).toBeGreaterThan(2);
    expect(texts.join()).not.toMatch(/digits swapped|taken for|it is charted at|should show|too many/);
  });

  it("is where the same number, read by a person, may be a slip", async () => {
    const stay = await begun("09:00");
    const [doubt] = (await asked(stay, [read("09:00", 250)])).disagreements;
    expect(kinds(doubt.reasons).some((kind) => MISREADINGS.includes(kind))).toBe(true);
  });

  it("does not mistime or mistype what it was set to either", async () => {
    const stay = await begun("09:00");
    await stay.post([change("08:00", 300)], { as: PUMPS });
    const [doubt] = (await asked(stay, [read("09:00", 200)])).disagreements;
    expect(kinds(doubt.reasons)).not.toContain("rate-change-late");
  });
});

describe("a reason is held against the readings that follow", () => {
  const run = [read("08:00", 130), read("09:00", 260), read("10:00", 390), read("12:00", 650)];

  it("130, 260, 390, 650 at 100 mL/h is a rate of 130 and not 103 misread", async () => {
    const stay = await begun("12:00", ...run);
    const [first, ...others] = await told(stay);
    expect(first).toBe(
      "At 130 mL/h instead of 100 mL/h from 07:00 it would agree: a change of rate may not have been charted.",
    );
    expect(others.join()).not.toContain("103");
  });

  it("also where they come with one request", async () => {
    const stay = await begun("12:00");
    const [doubt] = (await asked(stay, run)).disagreements;
    expect(doubt.reasons[0]).toMatchObject({ kind: "rate-change-missing", place: 1, tied: false });
    expect(kinds(doubt.reasons)).not.toContain("digits");
  });

  it("30 mL more once, and 100 an hour since, is no rate that went on", async () => {
    const stay = await begun("11:00", read("08:00", 150), read("09:00", 250), read("10:00", 350));
    expect((await told(stay)).join()).not.toContain("instead of 100 mL/h");
  });
});

describe("both totals, read together", () => {
  const both = (primary: number, secondary: number) => [
    read("09:00", primary),
    read("09:00", secondary, { total: "secondary" }),
  ];

  it.each([
    // The primary lacks half an hour of its 200 mL, and waited while the secondary gave it.
    [150, 70],
    [150, 100],
    [170, 55],
  ])("%d and %d mL point to the secondary that gave what the primary lacks", async (primary, secondary) => {
    const stay = await begun("09:00");
    const request = both(primary, secondary);
    const { disagreements } = await asked(stay, request);
    expect(disagreements).toHaveLength(2);
    for (const doubt of disagreements) {
      const [first] = doubt.reasons;
      expect([doubt.total, first.kind, first.tied]).toEqual([doubt.total, "secondary-missing", false]);
      expect(first.entries.at(-1).volumeToInfuse).toBe(secondary);
      await expectSettled(stay, request, doubt, first);
    }
  });

  it("70 mL of the secondary alone are a secondary too", async () => {
    const stay = await begun("09:00");
    const [doubt] = (await asked(stay, [read("09:00", 70, { total: "secondary" })])).disagreements;
    expect(doubt.reasons[0]).toMatchObject({ kind: "secondary-missing" });
    expect(kinds(doubt.reasons)).not.toContain("digits");
  });
});

describe("an entry recorded late that contradicts a reading which agreed", () => {
  it("is itself the first that may be wrong", async () => {
    const stay = await begun("10:00", read("09:00", 200));
    await chart(stay, [change("08:00", 300, { id: "late" })]);
    const [question] = await findings(stay);
    expect(question.settledBy[0]).toMatchObject({
      text:
        "The change of rate charted at 08:00 was recorded after the reading, which agreed before: " +
        "it, or its time, may be wrong.",
      entry: { kind: "entry-voided", entry: "late" },
    });
    await chart(stay, [question.settledBy[0].entry]);
    expect(await findings(stay)).toEqual([]);
  });

  it("is none where the reading did not agree without it", async () => {
    const stay = await begun("10:00");
    await chart(stay, [read("09:00", 250, { confirmed: true })]);
    await chart(stay, [change("08:45", 120)]);
    expect((await told(stay)).join()).not.toContain("recorded after");
  });
});

describe("a metered total that is lower than it was", () => {
  it("may have been cleared, and that settles it", async () => {
    const stay = await Stay.begun({ now: "11:00" });
    const feed = pump("07:00", { type: "metered", totals: "combined" });
    const total = { total: "combined" };
    await stay.post([line("07:00"), feed, read("08:00", 100, total)]);
    const request = [read("09:00", 30, total)];
    const [doubt] = (await asked(stay, request)).disagreements;
    expect(kinds(doubt.reasons)).toContain("clear-missing");
    for (const reason of doubt.reasons) await expectSettled(stay, request, doubt, reason);
  });
});

it.each([5, 0])(
  "a metered total lower than the last is asked about, whether the first was %i or not",
  async (first) => {
    const stay = await Stay.begun({ now: "12:00" });
    const feed = pump("07:00", { type: "metered", totals: "combined" });
    const counted = (clock: string, volume: number) => read(clock, volume, { total: "combined" });
    await stay.post([line("07:00"), feed, counted("07:11", first), counted("09:24", 41)]);
    const request = [counted("11:38", 20)];
    const [doubt] = (await asked(stay, request)).disagreements;
    expect(doubt).toMatchObject({ reading: 20 });
    for (const reason of doubt.reasons) await expectSettled(stay, request, doubt, reason);
  },
);

describe("a flow that is charted to have ended, and went on", () => {
  it("was started again, or had more to infuse", async () => {
    const stay = await Stay.begun({ now: "09:00" });
    await stay.post([...AT_100, start("07:00", 100, { volumeToInfuse: 100 })]);
    const request = [read("09:00", 150)];
    const [doubt] = (await asked(stay, request)).disagreements;
    const [first] = doubt.reasons;
    expect(first.kind).toBe("bag-missing");
    expect(first.sentence).toMatch(/started again at 08:30, at 100 mL\/h|150 mL to infuse/);
    for (const reason of doubt.reasons) await expectSettled(stay, request, doubt, reason);
  });

  it("may have stopped and gone on with the next bag", async () => {
    const stay = await Stay.begun({ now: "09:00" });
    const small = hang("07:00", "small", 100);
    await stay.post([line("07:00"), pump("07:00"), small, start("07:00", 100)]);
    const request = [read("09:00", 140)];
    const [doubt] = (await asked(stay, request)).disagreements;
    const reason = doubt.reasons.find(({ kind }: Json) => kind === "bag-missing");
    expect(reason.entries.map(({ kind }: Json) => kind)).toEqual(["bag-hung", "flow-started"]);
    await expectSettled(stay, request, doubt, reason);
  });
});

describe("a request that amends a reading", () => {
  it("is answered by reasons that stand instead of the amendment", async () => {
    const stay = await begun("11:00", read("09:00", 200, { id: "r" }));
    const request = [amend("r", read("09:00", 20))];
    const [doubt] = (await asked(stay, request)).disagreements;
    const digits = doubt.reasons.find(({ kind }: Json) => kind === "digits");
    expect(digits.instead).toEqual(["#/entries/0"]);
    for (const reason of doubt.reasons) await expectSettled(stay, request, doubt, reason);
  });
});

describe("a zero", () => {
  it("is not what a total shows that never counted anything", async () => {
    const stay = await begun("10:00", read("08:00", 100));
    const [doubt] = (await asked(stay, [read("09:00", 0)])).disagreements;
    expect(kinds(doubt.reasons)).not.toContain("other-total");
    expect(doubt.reasons[0].kind).toBe("clear-missing");
  });

  it("nor is the sum what was read where only one total has counted", async () => {
    const stay = await begun("10:00", read("08:00", 100), reset("08:30", { totals: ["secondary"] }));
    const [doubt] = (await asked(stay, [read("09:00", 300)])).disagreements;
    expect(kinds(doubt.reasons)).not.toContain("other-total");
  });

  it("of a channel that runs nothing else is no total of another channel", async () => {
    const other = on("07:00", "channel-connected", {
      channel: "pump-2",
      line: "forearm",
      type: "pump",
    });
    const stay = await begun("10:00", other, read("08:00", 100));
    const [doubt] = (await asked(stay, [read("09:00", 0)])).disagreements;
    expect(kinds(doubt.reasons)).not.toContain("other-channel");
  });
});
