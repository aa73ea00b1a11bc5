/** Requests sent again, and requests that are refused as a whole: what counts as the same, and what is judged first. */

import { describe, expect, it } from "vitest";
import { Stay } from "./stay.js";
import { amend, at, change, drank, start, void_ } from "./telling.js";

describe("an entry sent again with its id", () => {
  it("is answered as recorded before, and recorded once", async () => {
    const stay = await Stay.running();
    const first = await stay.post([change("09:30", 80, { id: "rate" })]);
    const again = await stay.post([change("09:30", 80, { id: "rate" })]);
    expect([first.status, again.status]).toEqual([201, 200]);
    expect(again.body.entries).toEqual(first.body.entries);
    expect(again.body.ledger).toEqual(first.body.ledger);
    expect(again.body.findings).toEqual([]);
  });

  it("among others is left alone, and the others are recorded in the order of the request", async () => {
    const stay = await Stay.running();
    await stay.post([change("09:00", 80, { id: "b" })]);
    const request = [
      change("08:00", 70, { id: "a" }),
      change("09:00", 80, { id: "b" }),
      change("10:00", 90, { id: "c" }),
    ];
    const { status, body } = await stay.post(request);
    expect(status).toBe(201);
    expect(body.entries.map((entry: { id: string }) => entry.id)).toEqual(["a", "b", "c"]);
    expect(body.entries.map((entry: { recorded: { sequence: number } }) => entry.recorded.sequence)).toEqual([
      7, 6, 8,
    ]);
  });

  it("is the same whatever the order of its fields and the form of its numbers", async () => {
    const stay = await Stay.running();
    await stay.post([
      JSON.parse(
        '{"id":"x","kind":"intake-measured","at":"2026-03-04T09:00:00-06:00","category":"oral","volume":5}',
      ),
    ]);
    const reordered = JSON.parse(
      '{"volume":5.0,"category":"oral","at":"2026-03-04T09:00:00-06:00","kind":"intake-measured","id":"x"}',
    );
    expect((await stay.post([reordered])).status).toBe(200);
  });

  it.each([
    ["a default spelled out", change("09:30", 80, { id: "rate", role: "primary" })],
    [
      "the same instant with another offset",
      { ...change("09:30", 80, { id: "rate" }), at: "2026-03-04T15:30:00Z" },
    ],
    ["a note added", change("09:30", 80, { id: "rate", note: "Again." })],
    ["another kind", drank("09:30", 80, { id: "rate" })],
  ])("is another body with %s", async (_what, entry) => {
    const stay = await Stay.running();
    await stay.post([change("09:30", 80, { id: "rate" })]);
    expect(await stay.refused([entry])).toEqual({ problem: "entry-exists", ids: ["rate"] });
  });

  it("shows what has become of it since, as reading it does", async () => {
    const stay = await Stay.running();
    await stay.post([change("09:30", 80, { id: "rate" }), change("10:30", 90, { id: "later" })]);
    await stay.post([amend("rate", change("09:00", 80), { id: "first" }), void_("later", { id: "void" })]);
    await stay.post([amend("rate", change("09:10", 80), { id: "second" })]);
    const { body } = await stay.post([
      change("09:30", 80, { id: "rate" }),
      change("10:30", 90, { id: "later" }),
      amend("rate", change("09:00", 80), { id: "first" }),
      void_("later", { id: "void" }),
    ]);
    expect(body.entries.map((entry: { recorded: { state: string } }) => entry.recorded.state)).toEqual([
      "amended",
      "voided",
      "amended",
      "current",
    ]);
    for (const entry of body.entries) {
      const { amendments: _, asOf: __, ...read } = await stay.entry(entry.id);
      expect(entry).toEqual(read);
    }
  });
});

describe("ids that are taken by other bodies", () => {
  it("are all listed, and nothing is recorded", async () => {
    const stay = await Stay.running();
    await stay.post([
      change("08:00", 80, { id: "a" }),
      change("09:00", 80, { id: "b" }),
      change("10:00", 80, { id: "c" }),
    ]);
    const request = [
      change("08:00", 81, { id: "a" }),
      change("09:00", 80, { id: "b" }),
      change("10:00", 81, { id: "c" }),
      change("11:00", 80, { id: "d" }),
    ];
    expect(await stay.refused(request)).toEqual({ problem: "entry-exists", ids: ["a", "c"] });
    expect(await stay.sequence()).toBe(8);
  });

  it("are said to be taken where they declared a key with other properties, too", async () => {
    const stay = await Stay.running();
    const line = { kind: "line-placed", at: at("07:00"), line: "second", route: "intravenous", id: "l" };
    await stay.post([{ ...line, label: "left" }]);
    expect(await stay.refused([{ ...line, label: "right" }])).toEqual({
      problem: "entry-exists",
      ids: ["l"],
    });
    // Under an id of its own it is a second declaration.
    expect(await stay.faults([{ ...line, label: "right", id: "l2" }])).toEqual([
      "#/entries/0/line key-in-use",
    ]);
  });

  it("may be those of the ledger's own entries", async () => {
    const stay = await Stay.running();
    const [admitted] = await stay.entries();
    expect(await stay.refused([change("09:00", 80, { id: admitted.id })])).toEqual({
      problem: "entry-exists",
      ids: [admitted.id],
    });
  });

  it("named twice in one request are refused at the later place", async () => {
    const stay = await Stay.running();
    const request = [
      change("08:00", 80, { id: "a" }),
      change("09:00", 80, { id: "b" }),
      change("09:00", 90, { id: "a" }),
    ];
    expect(await stay.faults(request)).toEqual(["#/entries/2/id repeated-id"]);
  });

  it("are free in another stay", async () => {
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
    expect((await stay.post([start("07:00", 20, { id: "start" })], { encounter: "stay-2" })).status).toBe(
      201,
    );
  });
});
