/** A dry run records nothing, and says what recording the same then does. */

import { describe, expect, it } from "vitest";
import { type Json, PUMPS, Stay } from "./stay.js";
import { amend, change, drank, hang, on, start, type Told, void_ } from "./telling.js";

const begun = () => Stay.running(change("09:30", 80, { id: "rate" }), drank("10:00", 100, { id: "drink" }));

describe("a dry run", () => {
  it("says which figures move, by line and hour, and what the totals would show", async () => {
    const stay = await begun();
    const { status, body } = await stay.post([amend("rate", change("09:00", 90))], { dryRun: true });
    expect(status).toBe(200);
    // 09:00 to 09:30 at 75, then 80: 77.5; from 09:00 at 90: 90. Each later hour 90 instead of 80, until 14:00.
    const row = { line: "forearm", label: "The forearm" };
    const hour = (start: number, before: number) => ({
      row,
      start: `2026-03-04T${String(start).padStart(2, "0")}:00:00-06:00`,
      end: `2026-03-04T${String(start + 1).padStart(2, "0")}:00:00-06:00`,
      before,
      after: 90,
    });
    expect(byLine(body.effects)).toEqual([
      hour(9, 77.5),
      hour(10, 80),
      hour(11, 80),
      hour(12, 80),
      hour(13, 80),
    ]);
    // 2 h at 75 and 5 h at 90.
    expect(body.totals[0].totals[0]).toMatchObject({ total: "primary", expected: 600 });
  });

  it("names the present head, and records nothing", async () => {
    const stay = await begun();
    const before = await stay.entries();
    const { body } = await stay.post([change("11:00", 20)], { dryRun: true });
    expect(body.ledger).toEqual({ sequence: 7, digest: before.at(-1).recorded.digest });
    expect(await stay.entries()).toEqual(before);
    expect(stay.ledger.verify()).toMatchObject({ sound: true, entries: 8 });
  });

  it("is refused as recording is", async () => {
    const stay = await begun();
    expect(await stay.refused([change("15:00", 20)], { dryRun: true })).toEqual(
      await stay.refused([change("15:00", 20)]),
    );
    const stale = { dryRun: true, ifMatch: 2 };
    expect(await stay.refused([change("11:00", 20)], stale)).toMatchObject({
      problem: "stale-etag",
      sequence: 7,
    });
  });

  const requests: [string, Told[]][] = [
    ["a rate change an hour ago", [change("13:00", 120, { id: "new" })]],
    ["a late bag and flow", [hang("08:00", "b", 250, { id: "b" }), start("08:00", 33.3, { id: "s" })]],
    ["a drink", [drank("13:10", 240, { id: "d" })]],
    ["a void", [void_("rate", { id: "v" })]],
    ["an amendment that moves an entry", [amend("rate", change("07:30", 11), { id: "a" })]],
    [
      "a void of an amount and what replaces it",
      [void_("drink", { id: "v" }), drank("10:30", 130, { id: "d" })],
    ],
    ["a rate on a channel nobody connected", [change("12:00", 60, { id: "new", channel: "pump-9" })]],
    [
      "entries sent before and a new one",
      [change("09:30", 80, { id: "rate" }), on("13:30", "flow-paused", { id: "p" })],
    ],
    ["a flow at a dose", [on("12:00", "flow-started", { id: "s", dose: { value: 2, unit: "mL/kg/h" } })]],
    [
      "a new line with a channel",
      [
        {
          kind: "line-placed",
          at: "2026-03-04T12:00:00-06:00",
          line: "hand",
          label: "Right hand",
          route: "intravenous",
          id: "l",
        },
        on("12:00", "channel-connected", { id: "c", channel: "pump-2", line: "hand", type: "pump" }),
        start("12:00", 30, { id: "s", channel: "pump-2" }),
      ],
    ],
    ["a drug given by hand into a line", [drank("12:00", 30, { id: "d", line: "forearm" })]],
  ];

  it.each(requests)("is followed by what it said: %s", async (_what, request) => {
    for (const cold of [false, true]) {
      const stay = await begun();
      if (cold) await stay.withoutCheckpoints();
      const was = await byHour(stay);
      const { body: said } = await stay.post(request, { dryRun: true });
      const { body: recorded } = await stay.post(request);
      expect(said.entries).toEqual(recorded.entries);
      expect(said.findings).toEqual(recorded.findings);
      expect(said.totals).toEqual((await stay.totals()).channels);
      expect(byLine(said.effects)).toEqual(differences(was, await byHour(stay)));
    }
  });

  it("of a device's entries for later moves nothing yet", async () => {
    const stay = await begun();
    const { body } = await stay.post([start("20:00", 500)], { dryRun: true, as: PUMPS });
    expect(body.effects).toEqual([]);
    expect(body.totals).toEqual((await stay.totals()).channels);
  });
});

describe("a dry run of what moves the balance", () => {
  const net = { line: null, label: "Net", balance: "net" };
  const urine = { line: null, label: "Urine", balance: "urine" };
  const ten = { start: "2026-03-04T10:00:00-06:00", end: "2026-03-04T11:00:00-06:00" };
  const output = (volume: number, id: string) => ({
    ...drank("10:30", volume, { id }),
    kind: "output-measured",
    category: "urine",
  });

  it("says what came out, and the net", async () => {
    const stay = await Stay.running();
    const { body } = await stay.post([output(200, "u")], { dryRun: true });
    expect(body.effects).toEqual([
      { row: urine, ...ten, before: 0, after: 200 },
      { row: net, ...ten, before: 75, after: -125 },
    ]);
    await stay.post([output(200, "u")]);
    const { body: voided } = await stay.post([void_("u")], { dryRun: true });
    expect(voided.effects).toEqual([
      { row: urine, ...ten, before: 200, after: 0 },
      { row: net, ...ten, before: -125, after: 75 },
    ]);
  });

  it("says what moves in the shift that ends at the moment it is charted", async () => {
    const stay = await Stay.running();
    stay.itIs("19:20");
    const last = { start: "2026-03-04T18:00:00-06:00", end: "2026-03-04T19:00:00-06:00" };
    const { body } = await stay.post([{ ...output(200, "u"), at: last.end }], { dryRun: true });
    expect(body.effects).toEqual([
      { row: urine, ...last, before: 0, after: 200 },
      { row: net, ...last, before: 75, after: -125 },
    ]);
  });

  it("says the net where something was lost, and beside a line that gives more", async () => {
    const stay = await Stay.running();
    const lost = on("10:45", "delivery-lost", {
      from: "2026-03-04T10:00:00-06:00",
      to: "2026-03-04T10:30:00-06:00",
      volume: 20,
      reason: "leaked",
    });
    const { body } = await stay.post([lost], { dryRun: true });
    expect(body.effects).toEqual([{ row: net, ...ten, before: 75, after: 55 }]);
    const drink = await stay.post([drank("10:30", 100)], { dryRun: true });
    expect(drink.body.effects).toEqual([
      { row: { line: null, label: "No line named" }, ...ten, before: 0, after: 100 },
      { row: net, ...ten, before: 75, after: 175 },
    ]);
  });
});

/** The effects without those of the balance. */
function byLine(effects: Json[]): Json[] {
  return effects.filter(({ row }) => row.balance === undefined);
}

function byHour(stay: Stay): Promise<Json> {
  return stay.volumes("2026-03-04/day", { by: "hour", per: "line" });
}

/** What differs between two answers by hour and line, in the form of effects, sorted as they are. */
function differences(was: Json, is: Json): Json[] {
  const lines = new Map<string | null, string>(
    [...was.rows, ...is.rows].map((row: Json) => [row.key, row.label]),
  );
  const figure = (answer: Json, key: string | null, i: number) =>
    answer.rows.find((row: Json) => row.key === key)?.volumes[i] ?? 0;
  return [...lines].flatMap(([key, label]) =>
    is.intervals.flatMap(({ start, end }: Json, i: number) => {
      const [before, after] = [figure(was, key, i), figure(is, key, i)];
      return before === after ? [] : [{ row: { line: key, label }, start, end, before, after }];
    }),
  );
}
