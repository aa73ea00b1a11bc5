/** What a dose came to when it was recorded is never computed again, whatever is corrected around it. */

import { describe, expect, it } from "vitest";
import { Stay } from "./stay.js";
import { amend, given, heparin, on, type Told, void_, weighed } from "./telling.js";

const begun = () => Stay.running(heparin("07:00"));

describe("what was frozen", () => {
  it("stays when the weight is corrected, measured anew or made void", async () => {
    const stay = await begun();
    await stay.post([weighed("08:00", 80, { id: "weight" }), given("09:00", 10, { id: "dose" })]);
    const hours = await stay.volumes("2026-03-04/day", { per: "bag" });
    await stay.post([amend("weight", weighed("08:00", 40))]);
    await stay.post([weighed("08:59", 100)]);
    await stay.post([void_("weight")]);
    expect(await stay.rateOf("dose")).toBe(8);
    expect((await stay.volumes("2026-03-04/day", { per: "bag" })).rows).toEqual(hours.rows);
    await stay.withoutCheckpoints();
    expect((await stay.volumes("2026-03-04/day", { per: "bag" })).rows).toEqual(hours.rows);
  });

  it("stays when the bag is amended, and when another entry takes its place before it", async () => {
    const stay = await begun();
    await stay.post([given("09:00", 10, { id: "dose" })]);
    await stay.post([
      heparin("08:00", { bag: "double", additives: [{ name: "Heparin", amount: 50_000, unit: "units" }] }),
    ]);
    expect((await stay.totals({ at: "09:30" })).channels[0].flow).toMatchObject({ bag: "double", rate: 7 });
  });

  it("stays with the original when an amendment to another dose is made and made void", async () => {
    const stay = await begun();
    await stay.post([given("09:00", 10, { id: "dose" }), weighed("12:00", 80)]);
    await stay.post([amend("dose", given("13:00", 20), { id: "amended" })]);
    expect(await stay.rateOf("amended")).toBe(16);
    expect((await stay.totals()).channels[0].flow.rate).toBe(16);
    await stay.post([void_("amended", { id: "void" })]);
    expect((await stay.totals({ at: "13:30" })).channels[0].flow.rate).toBe(7);
    await stay.post([void_("void")]);
    expect((await stay.totals()).channels[0].flow.rate).toBe(16);
  });

  it.each([
    [
      "an entry made void in its own request",
      [given("09:00", 10, { id: "dose" }), void_("dose", { id: "void" })],
      "void",
      7,
    ],
    [
      "an entry amended in its own request",
      [given("09:00", 10, { id: "dose" }), amend("dose", given("09:00", 20), { id: "amended" })],
      "amended",
      7,
    ],
    [
      "the first of two amendments of one request",
      [
        on("09:00", "secondary-started", { rate: 1, id: "dose" }),
        amend("dose", given("09:00", 10)),
        amend("dose", given("09:00", 20), { id: "second" }),
      ],
      "second",
      7,
    ],
  ])("is there also of %s, when it comes to count", async (_what, request, voided, rate) => {
    const stay = await begun();
    await stay.post(request as Told[]);
    await stay.post([void_(voided as string)]);
    expect((await stay.totals()).channels[0].flow).toMatchObject({ bag: "heparin", rate });
  });
});
