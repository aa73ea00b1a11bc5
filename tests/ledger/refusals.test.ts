/** What is refused by sense, and nothing else: all faults of a request at once, each at its place. */

import { describe, expect, it } from "vitest";
import { PUMPS, Stay } from "./stay.js";
import { amend, at, change, drank, hang, line, on, pump, start, type Told, void_ } from "./telling.js";

const dose = (clock: string, kind = "flow-started", more: Told = {}) =>
  on(clock, kind, { dose: { value: 4, unit: "mg/h" }, ...more });

const begun = () => Stay.running(drank("08:00", 100, { id: "drink" }));

const REFUSED: [string, Told[], string[]][] = [
  ["more than 24 hours before admission", [drank("3 05:59:59", 5)], ["#/entries/0/at too-early"]],
  ["more than 5 minutes ahead", [drank("14:05:01", 5)], ["#/entries/0/at too-far-ahead"]],
  [
    "an amendment to a time out of bounds",
    [amend("drink", drank("15:00", 5))],
    ["#/entries/0/replacement/at too-far-ahead"],
  ],
  [
    "a clear that may be yet to come",
    [on("13:00", "totals-reset", { between: [at("12:00"), at("14:05:01")] })],
    ["#/entries/0/between/1 too-far-ahead"],
  ],
  [
    "a clear of which all is yet to come",
    [amend("drink", on("14:30", "totals-reset", { between: [at("14:06"), at("14:30")] }))],
    [
      "#/entries/0/replacement/at too-far-ahead",
      "#/entries/0/replacement/between/0 too-far-ahead",
      "#/entries/0/replacement/between/1 too-far-ahead",
      "#/entries/0/replacement/kind other-kind",
    ],
  ],
  [
    "a loss that goes on until later than now",
    [on("13:00", "delivery-lost", { from: at("12:00"), to: at("14:06"), volume: 5, reason: "leaked" })],
    ["#/entries/0/to too-far-ahead"],
  ],
  ["an amendment of nothing", [amend("nothing", drank("09:00", 5))], ["#/entries/0/entry unknown-entry"]],
  ["a void of nothing", [void_("nothing")], ["#/entries/0/entry unknown-entry"]],
  ["a settlement of nothing", [settle("nothing")], ["#/entries/0/reading unknown-entry"]],
  ["a settlement of what is no reading", [settle("drink")], ["#/entries/0/reading other-kind"]],
  [
    "an amendment to another kind",
    [amend("drink", change("09:00", 5))],
    ["#/entries/0/replacement/kind other-kind"],
  ],
  [
    "an amendment that replaces what never stood there",
    [amend("drink", drank("09:00", 5), { replaces: "start" })],
    ["#/entries/0/replaces unknown-entry"],
  ],
  [
    "an amendment that replaces a void",
    [void_("drink", { id: "void" }), amend("drink", drank("09:00", 5), { replaces: "void" })],
    ["#/entries/1/replaces other-kind"],
  ],
  [
    "an amendment of a void",
    [void_("drink", { id: "void" }), amend("void", drank("09:00", 5))],
    ["#/entries/1/entry not-correctable"],
  ],
  ["a line with another route", [{ ...line("09:00"), route: "arterial" }], ["#/entries/0/line key-in-use"]],
  ["a channel of another type", [pump("09:00", { type: "syringe" })], ["#/entries/0/channel key-in-use"]],
  ["a bag with another label", [hang("09:00", "saline-1", 500)], ["#/entries/0/bag key-in-use"]],
  [
    "a bag declared twice in one request",
    [hang("09:00", "new", 500), hang("09:00", "new", 250)],
    ["#/entries/1/bag key-in-use"],
  ],
  ["a dose without a concentration", [dose("09:00")], ["#/entries/0/dose dose-without-concentration"]],
  [
    "a dose in a unit nobody knows",
    [on("09:00", "flow-started", { dose: { value: 1, unit: "sips/h" } })],
    ["#/entries/0/dose dose-unit-unknown"],
  ],
  [
    "an amendment to a dose that comes to no rate",
    [amend("start", dose("09:00"))],
    ["#/entries/0/replacement/dose dose-without-concentration"],
  ],
  [
    "an amendment, beside its original, to a dose that comes to no rate",
    [start("09:00", 20, { id: "new" }), amend("new", dose("09:00"))],
    ["#/entries/1/replacement/dose dose-without-concentration"],
  ],
  [
    "every fault there is, at once",
    [
      drank("2 09:00", 5),
      void_("nothing"),
      hang("09:00", "saline-1", 500),
      drank("09:00", 5, { id: "same" }),
      drank("10:00", 5, { id: "same" }),
      dose("09:00"),
      dose("10:00", "secondary-started"),
    ],
    [
      "#/entries/0/at too-early",
      "#/entries/1/entry unknown-entry",
      "#/entries/2/bag key-in-use",
      "#/entries/4/id repeated-id",
      "#/entries/5/dose dose-without-concentration",
      "#/entries/6/dose dose-without-concentration",
    ],
  ],
];

function settle(reading: string): Told {
  return { kind: "variance-settled", at: at("09:00"), reading, use: "reading", reason: "Looked again." };
}

describe("a request is refused as a whole for", () => {
  it.each(REFUSED)("%s", async (_what, entries, faults) => {
    const stay = await begun();
    const before = await stay.sequence();
    expect((await stay.faults(entries)).sort()).toEqual([...faults].sort());
    expect(await stay.sequence()).toBe(before);
  });

  it.each(["admitted", "moved", "settings-changed", "discharged"])(
    "a correction of what the ledger wrote itself: %s",
    async (written) => {
      const stay = await begun();
      await stay.move("east", "10:00");
      await stay.settle("east", { effectiveFrom: at("11:00"), settings: { precision: 1 } });
      await stay.discharge("12:00");
      const { id } = (await stay.entries()).find(({ kind }) => kind === written);
      expect(await stay.faults([void_(id)])).toEqual(["#/entries/0/entry not-correctable"]);
      expect(await stay.faults([amend(id, drank("09:00", 5))])).toContain(
        "#/entries/0/entry not-correctable",
      );
    },
  );
});

describe("the last moment", () => {
  it.each([
    ["24 hours before admission", "3 06:00"],
    ["5 minutes ahead", "14:05"],
  ])("that is still taken: %s", async (_what, clock) => {
    expect((await (await begun()).post([drank(clock, 5)])).status).toBe(201);
  });

  it("that a clear or a loss may reach to is 5 minutes ahead, and any for a device", async () => {
    const stay = await begun();
    const until = (clock: string) => [
      on("13:00", "totals-reset", { between: [at("12:00"), at(clock)] }),
      on("13:00", "delivery-lost", { from: at("12:00"), to: at(clock), volume: 5, reason: "leaked" }),
    ];
    expect((await stay.post(until("14:05"))).status).toBe(201);
    expect((await stay.post(until("15:00"), { as: PUMPS })).status).toBe(201);
  });

  it("is none for a device, which may be ahead of the ledger's clock, but not before a stay", async () => {
    const stay = await begun();
    expect((await stay.post([start("5 14:00", 20)], { as: PUMPS })).status).toBe(201);
    expect(await stay.faults([start("3 05:00", 20)], { as: PUMPS })).toEqual(["#/entries/0/at too-early"]);
  });
});
