/** A discharge ends what still runs; taken back, it never did. */

import { describe, expect, it } from "vitest";
import { type Json, NURSE, Stay } from "./stay.js";
import { at, cup, when } from "./telling.js";

const begun = () => Stay.besideWest({});
const HOURS_TO_COME = [null, null, null, null, null];

describe("a discharge that is taken back", () => {
  it("ended nothing: what ran goes on, and what was known in between stays known", async () => {
    const stay = await begun();
    await stay.discharge("12:00");
    const ended = await stay.sequence();
    expect(await stay.hours("2026-03-04/day")).toEqual([75, 75, 75, 75, 75, 0, 0, ...HOURS_TO_COME]);
    expect(await stay.dischargeUndone()).not.toHaveProperty("dischargedAt");
    const goesOn = [75, 75, 75, 75, 75, 75, 75, ...HOURS_TO_COME];
    expect(await stay.hours("2026-03-04/day")).toEqual(goesOn);
    expect(await stay.hours("2026-03-04/day", "forearm", { asOf: { sequence: ended } })).toEqual([
      75,
      75,
      75,
      75,
      75,
      0,
      0,
      ...HOURS_TO_COME,
    ]);
    await stay.withoutCheckpoints();
    expect(await stay.hours("2026-03-04/day")).toEqual(goesOn);
  });

  it("stands in the record as void, and who took it back and why", async () => {
    const stay = await begun();
    await stay.discharge("12:00");
    await stay.dischargeUndone();
    const [discharged, undone] = (await stay.entries()).slice(-2);
    expect(discharged).toMatchObject({ kind: "discharged", recorded: { state: "voided" } });
    expect(undone).toMatchObject({
      kind: "entry-voided",
      entry: discharged.id,
      reason: "The transfer was called off.",
      recorded: { state: "current", by: { id: NURSE.id } },
    });
    expect((await stay.entry(discharged.id)).amendments).toEqual([undone]);
    expect(stay.ledger.verify()).toMatchObject({ sound: true });
  });

  it("lets what the unit decided in between, and before, apply to the patient", async () => {
    const stay = await begun();
    await stay.settle("east", { effectiveFrom: at("12:30"), settings: { household: { cup: 200 } } });
    await stay.discharge("12:00");
    await stay.settle("east", { effectiveFrom: at("13:00"), settings: { household: { cup: 100 } } });
    await stay.settle("east", { effectiveFrom: at("13:30"), settings: { precision: 1 } });
    await stay.settle("west", { effectiveFrom: at("13:30"), settings: { household: { cup: 1 } } });
    await stay.dischargeUndone();
    await stay.post([cup("12:45"), cup("13:45")]);
    expect((await stay.oral("2026-03-04/day")).slice(5, 7)).toEqual([200, 100]);
    const written = (await stay.entries()).filter(({ kind }: Json) => kind === "settings-changed");
    expect(written.map(({ effectiveFrom }: Json) => effectiveFrom)).toEqual([
      at("12:30"),
      at("13:00"),
      at("13:30"),
    ]);
  });

  it("can come again, at another time, and be taken back again", async () => {
    const stay = await begun();
    await stay.discharge("12:00");
    await stay.dischargeUndone();
    expect(await stay.discharge("13:00")).toMatchObject({ dischargedAt: at("13:00") });
    expect(await stay.hours("2026-03-04/day")).toEqual([75, 75, 75, 75, 75, 75, 0, ...HOURS_TO_COME]);
    await stay.dischargeUndone();
    expect(await stay.hours("2026-03-04/day")).toEqual([75, 75, 75, 75, 75, 75, 75, ...HOURS_TO_COME]);
  });

  it("is none where the stay has not ended", async () => {
    const stay = await begun();
    const outcome = await stay.ledger.changeEncounter(NURSE, "stay-1", { dischargedAt: null });
    expect(outcome.refused).toMatchObject({
      problem: "invalid-body",
      errors: [{ pointer: "#/dischargedAt", code: "inconsistent" }],
    });
  });
});

describe("a change of an encounter that another has changed since", () => {
  it.each<[string, Parameters<Stay["ledger"]["changeEncounter"]>[2]]>([
    ["a move", { move: { unit: "west", at: at("13:00") } }],
    ["a discharge", { discharge: { at: at("13:00") } }],
    ["another bed", { bed: "14" }],
  ])("is refused, and done by whoever has seen it: %s", async (_what, patch) => {
    const stay = await begun();
    const seen = await stay.sequence();
    await stay.itIs(when("14:01")).post([cup("13:30")]);
    const change = (ifMatch: number) => stay.ledger.changeEncounter(NURSE, "stay-1", patch, ifMatch);
    expect((await change(seen)).refused).toEqual({
      problem: "stale-etag",
      sequence: seen + 1,
      since: seen,
    });
    expect((await change(seen + 1)).refused).toBeUndefined();
  });
});
