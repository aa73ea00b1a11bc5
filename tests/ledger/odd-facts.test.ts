/** A true fact is never refused, however odd: it is recorded, understood as far as it goes, and found. */

import { describe, expect, it } from "vitest";
import { type Json, Stay } from "./stay.js";
import { amend, at, change, drank, line, on, pump, running, start, type Told, void_ } from "./telling.js";

const reading = (clock: string, volume: number, more: Told = {}) =>
  on(clock, "total-read", { total: "primary", volume, ...more });
const bag = (clock: string, kind: string, more: Told = {}) => ({
  kind,
  at: at(clock),
  bag: "nobody-hung",
  ...more,
});

/** A request on top of a running pump, and the entries of it (by id) that are found to change nothing. */
const FACTS: [string, Told[], string[]][] = [
  ["a rate on an idle channel", [on("08:00", "flow-stopped"), change("09:00", 80, { id: "x" })], ["x"]],
  ["a rate of a secondary nobody started", [change("09:00", 80, { id: "x", role: "secondary" })], ["x"]],
  ["a channel nobody connected", [start("09:00", 80, { id: "x", channel: "pump-9" })], ["x"]],
  [
    "a pause of what stands still",
    [on("09:00", "flow-paused"), on("09:30", "flow-paused", { id: "x" })],
    ["x"],
  ],
  ["a resumption of what flows", [on("09:00", "flow-resumed", { id: "x" })], ["x"]],
  ["the end of a secondary nobody started", [on("09:00", "secondary-ended", { id: "x" })], ["x"]],
  ["the end of a bolus nobody started", [on("09:00", "bolus-stopped", { id: "x" })], ["x"]],
  [
    "a disconnection of what is not connected",
    [on("09:00", "channel-disconnected", { id: "x", channel: "pump-9" })],
    ["x"],
  ],
  ["a bag nobody hung, taken down", [bag("09:00", "bag-taken-down", { id: "x" })], ["x"]],
  [
    "a level of a bag nobody hung",
    [bag("09:00", "bag-level-read", { id: "x", remaining: 5, method: "scale" })],
    ["x"],
  ],
  [
    "a bag nobody hung, primed",
    [bag("09:00", "bag-adjusted", { id: "x", volume: -5, reason: "primed" })],
    ["x"],
  ],
  [
    "a reading of a total the channel does not keep",
    [reading("09:00", 5, { id: "x", channel: "pump-9" })],
    ["x"],
  ],
  ["a connection that is there already", [pump("09:00", { id: "x" })], ["x"]],
  [
    "an entry before its channel was connected",
    [start("06:30", 80, { id: "x" }), change("06:31", 9, { id: "y" })],
    ["x", "y"],
  ],
  ["a line nobody placed, removed", [{ kind: "line-removed", at: at("09:00"), line: "nowhere" }], []],
  [
    "a channel on a line nobody placed",
    [pump("09:00", { channel: "pump-2", line: "nowhere" }), start("09:00", 9, { channel: "pump-2" })],
    [],
  ],
  ["a line placed twice", [line("09:00")], []],
  ["an amount by a line nobody placed", [drank("09:00", 5, { category: "iv-push", line: "nowhere" })], []],
  [
    "a household measure the unit does not know",
    [{ kind: "intake-measured", at: at("09:00"), category: "oral", measure: { name: "thermos", count: 1 } }],
    [],
  ],
  ["a reading lower than the one before", [reading("09:00", 150), reading("10:00", 3)], []],
  ["a reading out of nowhere", [reading("09:00", 90_000)], []],
  [
    "a level above the label",
    [{ ...bag("09:00", "bag-level-read", { remaining: 5_000, method: "estimate" }), bag: "saline-1" }],
    [],
  ],
  [
    "more withdrawn than there was",
    [{ ...bag("09:00", "bag-adjusted", { volume: -2_000, reason: "withdrawn" }), bag: "saline-1" }],
    [],
  ],
  ["a reset of totals that show nothing", [on("07:00", "totals-reset")], []],
  [
    "a change of therapy, charted twice",
    [on("09:00", "therapy-changed"), on("09:00", "therapy-changed")],
    [],
  ],
  ["a return nobody left for", [{ kind: "away-ended", at: at("09:00") }], []],
  [
    "a chamber nobody placed, emptied",
    [{ kind: "chamber-emptied", at: at("09:00"), chamber: "c", category: "urine" }],
    [],
  ],
  [
    "irrigant that never comes back",
    [{ kind: "irrigant-instilled", at: at("09:00"), site: "bladder", volume: 3_000 }],
    [],
  ],
  [
    "a weight of another patient, it seems",
    [{ kind: "weight-measured", at: at("09:00"), weight: { value: 900, unit: "g" } }],
    [],
  ],
  [
    "a segment that ends before the stay",
    [on("3 20:00", "segment-read", { start: at("3 19:00"), volume: 3 })],
    [],
  ],
  [
    "a delivery lost that nobody gave",
    [on("09:00", "delivery-lost", { from: at("08:00"), to: at("09:00"), volume: 500, reason: "leaked" })],
    [],
  ],
  [
    "a rate beside a dose that means nothing",
    [start("09:00", 80, { dose: { value: 1, unit: "sips/h" } })],
    [],
  ],
  ["a void of what is void", [drank("09:00", 5, { id: "d" }), void_("d"), void_("d")], []],
  [
    "an amendment of what is void",
    [drank("09:00", 5, { id: "d" }), void_("d"), amend("d", drank("09:00", 6))],
    [],
  ],
  ["an amendment that changes nothing", [amend("start", start("07:00", 75))], []],
  [
    "an amendment of a superseded amendment",
    [
      amend("start", start("07:00", 70), { id: "a" }),
      amend("start", start("07:00", 71), { id: "b" }),
      amend("a", start("07:00", 72), { replaces: "a" }),
    ],
    [],
  ],
  [
    "a settlement of a reading in the same request",
    [
      reading("09:00", 500, { id: "r" }),
      {
        kind: "variance-settled",
        at: at("09:01"),
        reading: "r",
        use: "computed",
        reason: "Another pump's total.",
      },
    ],
    [],
  ],
];

describe("recorded, and found where it changes nothing:", () => {
  it.each(FACTS)("%s", async (_what, entries, found) => {
    const stay = await Stay.begun();
    await stay.post(running());
    const { status, body } = await stay.post(entries);
    expect(status).toBe(201);
    const concerned = body.findings
      .filter(({ code }: Json) => code === "entry-without-effect")
      .flatMap(({ concerns }: Json) => concerns.entries);
    // What no id was asked for is not in question here.
    expect(concerned.filter((id: string) => !id.startsWith("made-"))).toEqual(found);
  });
});
