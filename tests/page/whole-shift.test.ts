/** A whole shift recorded through the pages, from an empty encounter to the signature. */

import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { ShiftFigures } from "../../src/page/api/shapes.js";
import { launch, look, settled } from "./browser.js";
import { DemoUnit } from "./demo-unit.js";
import { Nurse } from "./nurse.js";

let browser: Browser;
let unit: DemoUnit;
let page: Page;
let nurse: Nurse;
let faults: string[];

beforeAll(async () => {
  [browser, unit] = await Promise.all([
    launch(),
    DemoUnit.open({ at: "2026-03-04T07:05:00-06:00", empty: true }),
  ]);
  const shifts = [
    { name: "day", starts: "07:00" },
    { name: "night", starts: "19:00" },
  ];
  await unit.send("units", { id: "east", name: "East", zone: "America/Chicago", shifts }, "administrator");
  const patient = { identifier: "P-1", name: "Demo Patient" };
  const admitted = { unit: "east", bed: "4", patient, admittedAt: "2026-03-04T07:00:00-06:00" };
  await unit.send("encounters", { id: "stay", ...admitted });
  ({ page, faults } = await look(browser, unit, { at: "?encounter=stay" }));
  nurse = new Nurse(page);
});

afterAll(async () => {
  await browser.close();
  await unit.close();
});

/** The ward's clock goes on, and the nurse comes back to the page. */
async function later(minutes: number): Promise<void> {
  unit.wait(minutes);
  await page.reload();
  await settled(page);
}

const shiftNow = () => unit.answer<ShiftFigures>("encounters/stay/shifts/2026-03-04/day");
const kinds = async () =>
  (await unit.answer<{ entries: { kind: string }[] }>("encounters/stay/entries")).entries
    .map(({ kind }) => kind)
    .filter((kind) => kind !== "admitted");

describe("a shift, from an empty encounter to the signature", () => {
  it("begins with a channel on a new line, and a bag that starts", async () => {
    await nurse.tap("Connect a channel");
    await nurse.choose("5 min ago");
    await nurse.dialog.getByLabel("What it is called").fill("Left forearm");
    await nurse.record();
    await nurse.tap("Hang a bag, pump-1");
    await nurse.choose("5 min ago");
    await nurse.choose("Sodium chloride 0.9 %");
    await nurse.digits("1000");
    await nurse.field(/^Start it at/);
    await nurse.digits("75");
    await nurse.dialog.getByText("pump-1 then runs at 75").waitFor();
    await nurse.record();
    expect(await kinds()).toEqual(["line-placed", "channel-connected", "bag-hung", "flow-started"]);
  });

  it("goes on with a change of rate, what went in and what came out", async () => {
    await later(145);
    await nurse.tap("Change rate, pump-1");
    await nurse.digits("80");
    await nurse.record();
    await later(30);
    await nurse.tap("Intake");
    await nurse.choose("Oral");
    await nurse.digits("200");
    await nurse.record();
    await nurse.tap("Output");
    await nurse.choose("Urine");
    await nurse.choose("10 min ago");
    await nurse.digits("350");
    // What it does is said first: the balance, as the table will have it.
    await nurse.dialog.getByText(/Urine, 09:00–10:00: 0.mL becomes 350.mL/).waitFor();
    await nurse.record();
  });

  it("has a secondary, and a bolus out of the bag", async () => {
    await later(30);
    await nurse.tap("More of pump-1");
    await nurse.tap("Secondary");
    await nurse.choose("A medication in sodium chloride 0.9 %");
    await nurse.dialog.getByLabel("Which medication").fill("Cefazolin");
    await nurse.field("How much of it");
    await nurse.digits("2");
    await nurse.choose("g");
    await nurse.field(/^Volume/);
    await nurse.digits("100");
    await nurse.field("Rate");
    await nurse.digits("200");
    await nurse.record();
    const { entries } = await unit.answer<{ entries: object[] }>("encounters/stay/entries?kind=bag-hung");
    expect(entries.at(-1)).toMatchObject({
      role: "secondary",
      fluid: { name: "Cefazolin in sodium chloride 0.9 %", category: "iv-medication" },
      additives: [{ name: "Cefazolin", amount: 2, unit: "g" }],
    });
    await later(90);
    await nurse.tap("More of pump-1");
    await nurse.tap("Bolus");
    await nurse.digits("50");
    await nurse.field("Rate");
    await nurse.digits("300");
    await nurse.record();
  });

  it("asks before a change of therapy loses totals, in the same sheet, with the readings to take", async () => {
    await later(120);
    await nurse.tap("More of pump-1");
    await nurse.tap("Change therapy");
    // 07:00 to 09:30 at 75, to 10:30 and from 11:00 to 12:00 at 80, a bolus of 50, from 12:10 to 14:00 at 80.
    await nurse.dialog.getByText("544.2 mL would be lost".replaceAll(" m", "\u00a0m")).waitFor();
    await nurse.dialog.getByText("100\u00a0mL would be lost").waitFor();
    const record = nurse.dialog.getByRole("button", { name: "Record", exact: true });
    expect(await record.isDisabled()).toBe(true);
    await nurse.digits("545");
    await nurse.field(/^Secondary total/);
    await nurse.digits("100");
    await nurse.record();
    const stands = (await shiftNow()).totals.channels[0];
    expect(stands).toMatchObject({ flow: null });
    expect(stands?.totals.map(({ expected, atRisk }) => [expected, atRisk])).toEqual([
      [0, 0],
      [0, 0],
    ]);
    await nurse.tap("Start, pump-1");
    await nurse.digits("60");
    await nurse.record();
  });

  it("asks for a second look at a reading that disagrees, and takes the number typed anew", async () => {
    await later(286);
    await nurse.tap(/^Write down the total, pump-1, Primary total/);
    await nurse.digits("186");
    await nurse.dialog.getByText(/100.mL less from what it should show, 286.mL/).waitFor();
    await nurse.tap("Record");
    await nurse.dialog.getByText("Look again").waitFor();
    await nurse.tap("Type another number");
    for (const _ of "186") await nurse.tap("Delete the last digit");
    await nurse.digits("286");
    await nurse.record();
  });

  it("undoes what was recorded in error, with a reason, and keeps it in the record", async () => {
    await nurse.tap("Output");
    await nurse.choose("Urine");
    await nurse.digits("999");
    await nurse.record();
    await nurse.tap("Undo");
    await nurse.choose("Wrong patient");
    await nurse.record("Mark as made in error");
    await page.getByText("Marked as made in error").waitFor();
    const { entries } = await unit.answer<{ entries: { volume?: number; recorded: { state: string } }[] }>(
      "encounters/stay/entries",
    );
    expect(entries.find(({ volume }) => volume === 999)?.recorded.state).toBe("voided");
    expect(entries.at(-1)).toMatchObject({ kind: "entry-voided", reason: "Wrong patient" });
  });

  it("shows what the ledger has, which is what the hand calculates", async () => {
    const { balance, volumes } = await shiftNow();
    // Read: 545 and 100, then 286; with 200 taken orally.
    expect(volumes.total).toBe(545 + 100 + 286 + 200);
    expect([balance.intake.total, balance.output.total, balance.netTotal]).toEqual([1131, 350, 781]);
    for (const name of ["Intake", "Output", "Net"] as const) {
      const key = { Intake: balance.intake.total, Output: balance.output.total, Net: balance.netTotal }[name];
      await page
        .getByRole("button", { name: new RegExp(`^${name}, the shift: ${key.toLocaleString("en-US")}.mL`) })
        .first()
        .waitFor();
    }
  });

  it("ends with the signature", async () => {
    await nurse.tap("Sign the shift");
    await nurse.dialog.getByText("Every total is written down.").waitFor();
    await nurse.dialog.getByText("pump-1: 60\u00a0mL/h, Sodium chloride 0.9\u00a0%").waitFor();
    await nurse.dialog.getByText("No question is open.").waitFor();
    await nurse.sign();
    const { signatures } = await shiftNow();
    expect(signatures).toMatchObject([{ from: "2026-03-04T07:00:00-06:00", state: "final" }]);
    expect(faults).toEqual([]);
  });
});
