/** Keys of lines, channels and bags: declared once, and again only with the same properties, as far as declarations count. */

import { describe, expect, it } from "vitest";
import { Stay } from "./stay.js";
import { amend, hang, line, pump, void_ } from "./telling.js";

describe("a key that is in use", () => {
  it("may be declared again with the same properties: hung again, connected elsewhere, its labels in another order", async () => {
    const stay = await Stay.running();
    const additives = [
      { name: "A", amount: 1, unit: "mg" },
      { name: "B", amount: 2, unit: "mg" },
    ];
    await stay.post([hang("09:00", "mixed", 100, { additives }), line("09:00", "hand")]);
    await stay.post([
      hang("10:00", "mixed", 100, {
        additives: additives.toReversed(),
        role: "secondary",
        channel: "pump-2",
        remaining: 40,
      }),
      pump("10:00", { line: "hand", device: "asset 12", clearsOn: ["therapy-change"], totals: "separate" }),
    ]);
    expect(await stay.sequence()).toBe(9);
  });

  it("is free again once its declaration is void, and after that taken by the new one", async () => {
    const stay = await Stay.running();
    await stay.post([hang("09:00", "new", 500, { id: "hung" })]);
    await stay.post([void_("hung"), hang("09:00", "new", 250)]);
    expect(await stay.faults([hang("10:00", "new", 500)])).toEqual(["#/entries/0/bag key-in-use"]);
    expect((await stay.post([hang("10:00", "new", 250)])).status).toBe(201);
  });

  it("takes an amended declaration, of the only one", async () => {
    const stay = await Stay.running();
    await stay.post([hang("09:00", "new", 500, { id: "hung" })]);
    await stay.post([amend("hung", hang("09:00", "new", 250), { id: "amended" })]);
    expect(await stay.faults([hang("10:00", "new", 500)])).toEqual(["#/entries/0/bag key-in-use"]);
    await stay.post([hang("10:00", "new", 250)]);
    expect(await stay.faults([amend("hung", hang("09:00", "new", 100))])).toEqual([
      "#/entries/0/replacement/bag key-in-use",
    ]);
  });

  it.each([
    ["remembering", false],
    ["having forgotten everything", true],
  ])("takes the declaration that a voided amendment brought back, %s", async (_how, cold) => {
    const stay = await Stay.running();
    await stay.post([hang("09:00", "new", 500, { id: "hung" })]);
    await stay.post([amend("hung", hang("09:00", "new", 250), { id: "amended" })]);
    await stay.post([void_("amended")]);
    if (cold) await stay.reopened();
    expect(await stay.faults([hang("10:00", "new", 250)])).toEqual(["#/entries/0/bag key-in-use"]);
    expect((await stay.post([hang("10:00", "new", 500)])).status).toBe(201);
  });
});

describe("a void that would bring back a declaration", () => {
  it("is refused where the key has been declared otherwise meanwhile", async () => {
    const stay = await Stay.running();
    await stay.post([hang("09:00", "new", 500, { id: "hung" })]);
    await stay.post([void_("hung", { id: "void" })]);
    await stay.post([hang("09:00", "new", 250, { id: "again" })]);
    expect(await stay.faults([void_("void")])).toEqual(["#/entries/0/entry key-in-use"]);
    expect((await stay.post([hang("10:00", "new", 250, { id: "later" })])).status).toBe(201);
    expect(await stay.faults([void_("again"), void_("void")])).toEqual(["#/entries/1/entry key-in-use"]);
    expect((await stay.post([void_("again"), void_("later"), void_("void")])).status).toBe(201);
  });
});
