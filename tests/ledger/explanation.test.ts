/** Why a figure is what it is: what ran at whose rate, what was read, what held it; and that it adds up. */

import { describe, expect, it } from "vitest";
import type { ExplanationQuery } from "../../src/ledger/explanation.js";
import { read } from "./asking.js";
import { done, type Json, Stay } from "./stay.js";
import { change, drank, hang, line, on, pump, running, start, type Told, when } from "./telling.js";

type Asking = Partial<Omit<ExplanationQuery, "period">>;

const query = (from: string, to: string, asking: Asking) => ({
  period: { from: when(from), to: when(to) },
  per: "line" as const,
  row: "forearm",
  ...asking,
});

/** Why the forearm (or another row) shows what it does from one time to another. */
async function why(stay: Stay, from: string, to: string, asking: Asking = {}): Promise<Json> {
  return done(await stay.ledger.explanation("stay-1", query(from, to, asking)));
}

/** What its parts come to, and what the volumes show for the same interval, in mL. */
async function sumAndShown(stay: Stay, from: string, to: string, asking: Asking): Promise<number[]> {
  const { volume, deliveries, amounts, unattributed } = await why(stay, from, to, asking);
  const parts: { volume: number }[] = [...deliveries, ...amounts, ...unattributed];
  const { per = "line", row } = asking;
  const period = { from: when(from), to: when(to) };
  const { rows } = await stay.volumes(period, { per, by: "whole" });
  const shown = rows.find((one: Json) => one.key === row)?.volumes[0];
  return [parts.reduce((sum, one) => sum + one.volume, 0), volume, shown];
}

describe("the entries of a figure", () => {
  const setting = ({ deliveries, entries }: Json) => [
    deliveries.map(({ startedBy, setBy }: Json) => `${startedBy} ${setBy}`),
    entries,
  ];

  it("name what started the flow and what set the rate that ran", async () => {
    const stay = await Stay.running(change("09:30", 80, { id: "up" }));
    const told = await why(stay, "10:00", "11:00");
    expect([told.volume, ...setting(told)]).toEqual([80, ["start up"], ["start", "up"]]);
    expect(told.sentence).toBe("The forearm, 10:00 to 11:00: 80 mL, since it ran 1 h at 80 mL/h.");
    expect(setting(await why(stay, "09:00", "10:00"))).toEqual([
      ["start start", "start up"],
      ["start", "up"],
    ]);
  });

  it("are found however long before the shift the rate was set", async () => {
    const stay = await Stay.begun();
    const [placed, connected] = running();
    const began = [hang("07:00", "big", 5_000), start("07:00", 75, { id: "start" })];
    await stay.post([placed!, connected!, ...began, change("08:00", 80, { id: "up" })]);
    stay.itIs("6 10:00");
    expect(setting(await why(stay, "6 08:00", "6 09:00"))).toEqual([["start up"], ["start", "up"]]);
  });

  it("name what let a flow go on, where that came after its rate was set", async () => {
    const paused = [on("08:00", "flow-paused"), change("08:10", 80, { id: "up" })];
    const stay = await Stay.running(...paused, on("08:30", "flow-resumed", { id: "again" }));
    expect(setting(await why(stay, "10:00", "11:00"))).toEqual([["start up"], ["start", "up", "again"]]);
    await stay.post([change("09:00", 85, { id: "more" })]);
    expect(setting(await why(stay, "10:00", "11:00"))).toEqual([["start more"], ["start", "more"]]);
  });

  it("tell a bolus and a secondary from the primary they interrupt", async () => {
    const stay = await Stay.running(
      hang("08:00", "dose", 100, { role: "secondary" }),
      on("08:00", "secondary-started", { id: "second", rate: 100, whenDone: "resume-primary" }),
      change("08:30", 200, { id: "faster", role: "secondary" }),
      on("11:00", "bolus-started", { id: "bolus", volume: 50, over: "PT15M" }),
    );
    const { deliveries } = await why(stay, "08:00", "12:00");
    expect(deliveries.map(({ role, setBy, volume }: Json) => [role, setBy, volume])).toEqual([
      ["secondary", "second", 50],
      ["secondary", "faster", 50],
      // From 08:45 to 11:00 and from 11:15 at 75.
      ["primary", "start", 168.75],
      ["bolus", "bolus", 50],
      ["primary", "start", 56.25],
    ]);
  });
});

describe("the parts of a figure add up to it", () => {
  const cups = [
    drank("06:00", 10, { id: "at-admission" }),
    drank("10:00", 20, { id: "at-ten" }),
    drank("10:30", 30, { id: "half-past" }),
    drank("11:00", 40, { id: "at-eleven" }),
  ];
  const oral: Asking = { per: "category", row: "oral" };

  it.each([
    ["ends", ["half-past", "at-eleven"], 70],
    ["starts", ["at-ten", "half-past"], 50],
  ] as const)(
    "where what is charted on a boundary counts in the hour that %s there",
    async (boundary, own, sum) => {
      const stay = await Stay.begun({ unit: { settings: { boundary } } });
      await stay.post(cups);
      const { amounts } = await why(stay, "10:00", "11:00", oral);
      expect(amounts.map(({ entry }: Json) => entry)).toEqual(own);
      expect(await sumAndShown(stay, "10:00", "11:00", oral)).toEqual([sum, sum, sum]);
      // What was charted at the admission counts in the first hour by either rule.
      expect(await sumAndShown(stay, "06:00", "07:00", oral)).toEqual([10, 10, 10]);
    },
  );

  it.each(["ends", "starts"] as const)("with what a reading adds (%s)", async (boundary) => {
    const stay = await Stay.begun({ unit: { settings: { boundary } } });
    // 376 for the computed 300 is more than a flow may be scaled: 76 stand at 11:00.
    await stay.post([...running(), read("11:00", 376, { id: "r", confirmed: true })]);
    const bag: Asking = { per: "bag", row: "saline-1" };
    expect(await sumAndShown(stay, "10:00", "11:00", bag)).toEqual([151, 151, 151]);
    expect(await sumAndShown(stay, "11:00", "12:00", bag)).toEqual([75, 75, 75]);
  });
});

describe("a figure of nothing says why", () => {
  const nothing = async (stay: Stay, from: string, to: string, asking: Asking = {}) => {
    const { volume, basis, sentence, held, entries } = await why(stay, from, to, asking);
    expect([volume, basis]).toEqual([0, "computed"]);
    return { why: sentence.split("0 mL, since ")[1], held, entries };
  };

  it("before anything was charted for a row that the shift has", async () => {
    const stay = await Stay.running(hang("10:00", "saline-2", 500), drank("11:30", 100));
    const charted = { why: "nothing was charted for it in this time.", held: [], entries: [] };
    expect(await nothing(stay, "08:00", "09:00", { per: "bag", row: "saline-2" })).toEqual(charted);
    expect(await nothing(stay, "08:00", "09:00", { per: "category", row: "oral" })).toEqual(charted);
    expect(await nothing(stay, "12:00", "13:00", { per: "category", row: "oral" })).toEqual(charted);
  });

  it("but a key that no row of the shift has is refused", async () => {
    const stay = await Stay.running();
    const asked = query("08:00", "09:00", { per: "bag", row: "saline-2" });
    expect((await stay.ledger.explanation("stay-1", asked)).refused).toMatchObject({
      errors: [{ parameter: "row", code: "unknown-key" }],
    });
  });

  it("while a channel was paused, since when, and by which entry", async () => {
    const stay = await Stay.running(on("08:40", "flow-paused", { id: "pause" }));
    expect(await nothing(stay, "10:00", "11:00")).toEqual({
      why: "pump-1 was paused at 08:40.",
      held: [{ channel: "pump-1", how: "paused", since: "2026-03-04T08:40:00-06:00", by: "pause" }],
      entries: ["pause"],
    });
  });

  it("while one waits after a secondary that asked for a person", async () => {
    const stay = await Stay.running(
      hang("08:00", "dose", 100, { role: "secondary" }),
      on("08:00", "secondary-started", { id: "second", rate: 100, whenDone: "wait" }),
      on("09:05", "secondary-ended"),
    );
    expect(await nothing(stay, "10:00", "11:00", { per: "channel", row: "pump-1" })).toEqual({
      why: "pump-1 waited from 09:00 for somebody to resume it.",
      held: [{ channel: "pump-1", how: "waiting", since: "2026-03-04T09:00:00-06:00", by: "second" }],
      entries: ["second"],
    });
  });

  it("and of how long nobody knows, where no entry confirms that the channel waits", async () => {
    const stay = await Stay.running(
      hang("08:00", "dose", 100, { role: "secondary" }),
      on("08:00", "secondary-started", { id: "second", rate: 100, whenDone: "wait" }),
    );
    const { basis, unknown, sentence } = await why(stay, "10:00", "11:00");
    expect([basis, unknown]).toEqual(["unknown", 60]);
    expect(sentence).toBe(
      "The forearm, 10:00 to 11:00: 0 mL, since pump-1 waited from 09:00 for somebody to resume it; " +
        "of 1 h nobody knows, so it is the least it can be.",
    );
  });

  it.each([
    ["channel-disconnected", "pump-1 was disconnected at 09:10."],
    ["flow-stopped", "what ran on pump-1 ended at 09:10."],
    ["therapy-changed", "what ran on pump-1 ended at 09:10."],
  ])("after %s", async (kind, expected) => {
    const stay = await Stay.running(on("09:10", kind, { id: "end" }));
    const told = await nothing(stay, "10:00", "11:00");
    expect([told.why, told.entries]).toEqual([expected, ["end"]]);
  });

  it("where one thing held it after another", async () => {
    const paused = on("08:40", "flow-paused", { id: "pause" });
    const stay = await Stay.running(paused, on("10:20", "channel-disconnected", { id: "off" }));
    const told = await nothing(stay, "10:00", "11:00");
    expect(told.why).toBe("pump-1 was paused at 08:40; pump-1 was disconnected at 10:20.");
    expect(told.entries).toEqual(["pause", "off"]);
  });

  it("however long before the shift the channel was paused", async () => {
    const stay = await Stay.running(on("08:40", "flow-paused", { id: "pause" }), drank("12:00", 100));
    stay.itIs("6 14:00");
    // Something else is charted on the line in that shift, so that it has a row.
    await stay.post([drank("6 12:00", 50, { line: "forearm", category: "iv-push" })]);
    const told = await nothing(stay, "6 08:00", "6 09:00");
    expect([told.why, told.entries]).toEqual(["pump-1 was paused at 08:40 on 2026-03-04.", ["pause"]]);
  });

  it("and one that has not begun is none yet", async () => {
    const stay = await Stay.running();
    expect(await why(stay, "15:00", "16:00")).toMatchObject({
      volume: null,
      computed: null,
      basis: null,
      sentence: "The forearm, 15:00 to 16:00: it has not begun.",
      entries: [],
    });
  });
});

describe("what was read lower than before", () => {
  it("leaves the hour in dispute, and is listed", async () => {
    const low = read("09:00", 20, { id: "low", confirmed: true });
    const stay = await Stay.running(read("08:00", 75, { id: "first" }), low);
    const told = await why(stay, "08:00", "09:00");
    expect([told.volume, told.basis, told.entries]).toEqual([75, "disputed", ["start", "first", "low"]]);
    expect(told.readings).toMatchObject([{ entry: "low", over: "first", shows: 20, delivered: null }]);
    expect(told.sentence).toMatch(
      /the reading at 09:00 is lower than the one before, so nobody knows what was delivered since 08:00\.$/,
    );
  });

  it("of the bag of a gravity set is told as a level", async () => {
    const level = (clock: string, remaining: number, id: string): Told => {
      const { channel: _, ...entry } = on(clock, "bag-level-read", {
        id,
        bag: "drip",
        remaining,
        method: "scale",
      });
      return entry;
    };
    const stay = await Stay.begun();
    await stay.post([
      line("07:00"),
      pump("07:00", { type: "gravity", totals: "none", rateStep: undefined, dropFactor: 20 }),
      hang("07:00", "drip", 1_000),
      start("07:00", 60),
      ...[level("08:00", 940, "first"), level("09:00", 960, "more")],
    ]);
    const told = await why(stay, "08:00", "09:00");
    expect(told.basis).toBe("disputed");
    expect(told.readings).toMatchObject([{ entry: "more", kind: "level", delivered: null }]);
    expect(told.sentence).toMatch(
      /the bag held more at 09:00 than before, so nobody knows what was delivered since 08:00\.$/,
    );
  });
});

describe("a figure is rounded as the volumes are", () => {
  // 75 mL/h since 07:00: 150 by 09:00, 162.5 by 09:10.
  it.each([
    [undefined, 12.5],
    [1_000, 13],
    [5_000, 15],
  ])("to a step of %s µL", async (precision, expected) => {
    const stay = await Stay.running();
    const told = await why(stay, "09:00", "09:10", { precision });
    expect([told.volume, told.computed, told.deliveries[0].volume]).toEqual([expected, expected, 12.5]);
  });
});
