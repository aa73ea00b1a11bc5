/** Many hands on one stay: requests that come at once are recorded one after another, each seeing those before it. */

import { describe, expect, it } from "vitest";
import { type Json, Stay } from "./stay.js";
import { amend, change, drank, hang, on, start, void_ } from "./telling.js";

const FIFTY = Array.from({ length: 50 }, (_, i) => i);

describe("fifty requests at once", () => {
  it("are recorded without a gap, in the order in which they came", async () => {
    const stay = await Stay.running();
    const answers = await Promise.all(
      FIFTY.map((i) => stay.post([drank("09:00", i + 1, { id: `a-${i}` }), drank("10:00", 1)])),
    );
    expect(answers.map(({ body }) => body.ledger.sequence)).toEqual(FIFTY.map((i) => 5 + 2 * (i + 1)));
    expect((await stay.entries()).map(({ recorded }) => recorded.sequence)).toEqual(
      Array.from({ length: 105 }, (_, i) => i + 1),
    );
    expect(stay.ledger.verify()).toMatchObject({ sound: true, entries: 106 });
    // 1 + 2 + … + 50 = 1,275 at nine.
    const { rows } = await stay.volumes("2026-03-04/day", { per: "category" });
    expect(rows.find(({ key }: Json) => key === "oral").volumes.slice(1, 3)).toEqual([1_275, 50]);
  });

  it("for one tag: the first is recorded and the others hear of it", async () => {
    const stay = await Stay.running();
    const outcomes = await Promise.all(FIFTY.map((i) => stay.send([drank("09:00", i + 1)], { ifMatch: 5 })));
    expect(outcomes.filter(({ refused }) => refused === undefined)).toHaveLength(1);
    expect(outcomes[0]!.refused).toBeUndefined();
    expect(outcomes.slice(1).map(({ refused }) => refused)).toEqual(
      FIFTY.slice(1).map(() => ({ problem: "stale-etag", sequence: 6, since: 5 })),
    );
  });

  it("with one id: one is recorded, and those with the same body are answered as it was", async () => {
    const stay = await Stay.running();
    const outcomes = await Promise.all(
      FIFTY.map((i) => stay.send([drank("09:00", 100 + (i % 2), { id: "drink" })])),
    );
    expect(await stay.sequence()).toBe(6);
    expect(
      outcomes.map((outcome) => (outcome.refused ? outcome.refused.problem : outcome.done.status)),
    ).toEqual(FIFTY.map((i) => (i === 0 ? 201 : i % 2 === 0 ? 200 : "entry-exists")));
  });

  it("each reckon with the bag, weight and rate that those before them left", async () => {
    const stay = await Stay.running();
    const [first, second, third] = await Promise.all([
      stay.send([hang("09:00", "new", 500, { role: "secondary" })]),
      stay.send([hang("10:00", "new", 250, { role: "secondary" })]),
      stay.send([on("09:00", "secondary-started", { over: "PT5H", id: "secondary" })]),
    ]);
    expect(first.refused).toBeUndefined();
    expect(second.refused).toMatchObject({ problem: "invalid-entries", errors: [{ code: "key-in-use" }] });
    expect(third.refused).toBeUndefined();
    expect((await stay.entry("secondary")).recorded.frozen).toEqual({ rate: 100 });
  });

  it("that correct one another end as if they had come one by one", async () => {
    const requests = [
      [change("09:00", 80, { id: "rate" })],
      [amend("rate", change("08:00", 90), { id: "amended" })],
      [start("10:00", 20, { id: "start-2" })],
      [void_("amended", { id: "void" })],
      [void_("void"), change("11:00", 30)],
      [amend("start-2", start("12:00", 25))],
    ];
    const [together, apart] = [await Stay.running(), await Stay.running()];
    await Promise.all(requests.map((request) => together.post(request)));
    for (const request of requests) await apart.post(request);
    expect(await together.volumes("2026-03-04/day")).toEqual(await apart.volumes("2026-03-04/day"));
    // 75, then 90 from 08:00, 30 from 11:00, 25 from 12:00.
    expect((await together.hours("2026-03-04/day")).slice(0, 7)).toEqual([75, 90, 90, 90, 30, 25, 25]);
  });

  it("in two stays do not meet", async () => {
    const stay = await Stay.running();
    const other = {
      id: "stay-2",
      unit: "east",
      patient: { identifier: "P-2" },
      admittedAt: "2026-03-04T06:00:00-06:00",
    };
    await stay.ledger.admit(
      { id: "n", name: "N", role: "nurse", source: "person", units: null },
      other,
      null,
    );
    const answers = await Promise.all(
      FIFTY.map((i) => stay.post([drank("09:00", 1)], { encounter: i % 2 === 0 ? "stay-1" : "stay-2" })),
    );
    expect(answers.map(({ body }) => body.ledger.sequence)).toEqual(
      FIFTY.map((i) => (i % 2 === 0 ? 6 + i / 2 : 2 + (i - 1) / 2)),
    );
  });
});
