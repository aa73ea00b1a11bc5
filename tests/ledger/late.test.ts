/**
 * Entries far back: what was computed after them is computed anew, as far as their effect reaches, and
 * answers of before them stay what they were.
 */

import { describe, expect, it } from "vitest";
import { type Json, Stay } from "./stay.js";
import { amend, change, drank, hang, on, running, start, void_ } from "./telling.js";

/** Five days of which somebody charts a drink in every shift, so that each shift has its checkpoint. */
async function fiveDays(): Promise<Stay> {
  const stay = await Stay.begun();
  await stay.post([...running().slice(0, 3), start("07:00", 10, { id: "start", volumeToInfuse: "none" })]);
  for (const day of [4, 5, 6, 7, 8]) {
    for (const clock of [`${day} 08:00`, `${day} 20:00`]) {
      await stay.itIs(clock).post([drank(clock, day)]);
    }
  }
  return stay.itIs("8 20:30");
}

interface Checkpoint {
  readonly at: number;
  readonly from: number;
  readonly to: number | null;
  readonly text: string;
}

async function checkpoints(stay: Stay): Promise<Checkpoint[]> {
  let found: Checkpoint[] = [];
  await stay.inTheFile((file) => {
    const rows = file.prepare(
      "select at, valid_from as 'from', valid_to as 'to', text from checkpoint order by at, valid_from",
    );
    found = rows.all() as Checkpoint[];
  });
  return found;
}

const holding = (all: readonly Checkpoint[]) => all.filter(({ to }) => to === null);

/** The whole stay by shifts and bags, and what the totals show now. */
async function all(stay: Stay, asOf?: number): Promise<Json> {
  const period = { from: stay.now - 5 * 86_400_000, to: stay.now + 86_400_000 } as Json;
  const coordinates = asOf === undefined ? {} : { asOf: { sequence: asOf } };
  return [
    await stay.volumes(period, { by: "shift", per: "bag", ...coordinates }),
    await stay.totals(coordinates),
  ];
}

const LATE: [string, Json[]][] = [
  ["a rate on the first day", [change("4 09:00", 20)]],
  ["another bag on the first day", [hang("4 09:00", "b", 500)]],
  [
    "a secondary that was over within the shift",
    [hang("4 09:00", "s", 50, { role: "secondary" }), on("4 09:00", "secondary-started", { rate: 100 })],
  ],
  ["a pause nobody ended for two days", [on("4 09:00", "flow-paused"), on("6 09:00", "flow-resumed")]],
  ["two entries of which only the later has an effect", [drank("4 09:00", 5), change("7 09:00", 20)]],
  ["an amendment that moves the start across three shifts", [amend("start", start("5 21:00", 10))]],
  ["a void of the start", [void_("start")]],
  [
    "a stop that is made void in the same request",
    [on("4 09:00", "flow-stopped", { id: "stop" }), void_("stop")],
  ],
  [
    "a change of a weight",
    [{ kind: "weight-measured", at: "2026-03-04T09:00:00-06:00", weight: { value: 60, unit: "kg" } }],
  ],
];

describe("a late entry", () => {
  it.each(LATE)("brings every checkpoint in line with the entries: %s", async (_what, entries) => {
    const stay = await fiveDays();
    await stay.post(entries);
    const answer = await all(stay);
    const repaired = holding(await checkpoints(stay));
    await stay.withoutCheckpoints();
    expect(await all(stay)).toEqual(answer);
    // The same entries without the checkpoints having been there before come to the same states.
    const fresh = await Stay.begun({ now: "8 20:30" });
    const told = (await stay.entries()).filter(({ kind }: Json) => kind !== "admitted");
    for (const { id: _id, recorded: _recorded, ...entry } of told) {
      await fresh.post([{ ...entry, id: _id }]);
    }
    const [state] = (await checkpoints(fresh)).slice(-1);
    expect(repaired.find(({ at }) => at === state!.at)!.text).toBe(state!.text);
  });

  it("that is made void days later leaves everything as it was", async () => {
    const stay = await fiveDays();
    const before = (await stay.totals()).channels;
    await stay.post([on("4 09:00", "flow-stopped", { id: "stop" })]);
    expect((await stay.totals()).channels[0].delivering).toBe("nothing");
    await stay.post([void_("stop")]);
    expect((await stay.totals()).channels).toEqual(before);
    expect((await (await stay.reopened()).totals()).channels).toEqual(before);
  });

  it.each(LATE)(
    "leaves what was known before it as it was, also within its request: %s",
    async (_what, entries) => {
      const stay = await fiveDays();
      const head = await stay.sequence();
      const [volumes, totals] = await all(stay, head);
      await stay.post(entries);
      expect(await all(stay, head)).toEqual([volumes, totals]);
      const each = [];
      for (let sequence = head; sequence <= head + entries.length; sequence++)
        each.push(await all(stay, sequence));
      await stay.withoutCheckpoints();
      for (const [i, answer] of each.entries()) expect(await all(stay, head + i)).toEqual(answer);
    },
  );

  it("whose effect ends within its shift writes no checkpoint anew", async () => {
    const stay = await fiveDays();
    const before = await checkpoints(stay);
    expect(holding(before)).toHaveLength(10);
    await stay.post([drank("4 10:00", 30)]);
    expect(await checkpoints(stay)).toEqual(before);
  });

  it("writes anew from its shift on those that differ, and keeps the old ones for what was known before", async () => {
    const stay = await fiveDays();
    const head = await stay.sequence();
    const before = await checkpoints(stay);
    await stay.post([change("6 09:00", 20)]);
    const after = await checkpoints(stay);
    const anew = after.filter(({ from }) => from === head + 1);
    // From 6 March 19:00 to 8 March 19:00.
    expect(anew).toHaveLength(5);
    expect(
      after.filter(({ from }) => from <= head).map(({ at, from, text }) => ({ at, from, text })),
    ).toEqual(before.map(({ at, from, text }) => ({ at, from, text })));
    expect(holding(after)).toHaveLength(10);
  });
});
