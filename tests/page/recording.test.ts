/** Recording and signing at the page: what is asked, what is undone, when it happened, and sending it once. */

import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Entry, ShiftFigures } from "../../src/page/api/shapes.js";
import { type Looking, launch, look, settled } from "./browser.js";
import { DemoUnit } from "./demo-unit.js";
import { Nurse } from "./nurse.js";

let browser: Browser;
let unit: DemoUnit;

beforeAll(async () => {
  browser = await launch();
});

afterAll(() => browser.close());

// Each begins from the same page, which nobody has recorded on.
beforeEach(async () => {
  unit = await DemoUnit.open();
});

afterEach(() => unit.close());

async function nurseAt(encounter: string, looking: Looking = {}): Promise<Nurse & { faults: string[] }> {
  const { page, faults } = await look(browser, unit, { at: `?encounter=${encounter}`, ...looking });
  return Object.assign(new Nurse(page), { faults });
}

const entriesOf = async (encounter: string) =>
  (await unit.answer<{ entries: Entry[] }>(`encounters/${encounter}/entries?limit=1000`)).entries;
const shiftOf = (encounter: string, shift = "2026-03-04/day") =>
  unit.answer<ShiftFigures>(`encounters/${encounter}/shifts/${shift}`);
const WRITE_DOWN = /^Write down the total, pump-2, Primary total/;

describe("a reading that disagrees", () => {
  it("is asked about once it is recorded, not while it is typed, and confirmed with one touch", async () => {
    const nurse = await nurseAt("demo-a");
    await nurse.tap(WRITE_DOWN);
    await nurse.digits("1455");
    await nurse.dialog.getByText(/102.5.mL less from what it should show/).waitFor();
    expect(await nurse.dialog.getByText("Look again").count()).toBe(0);
    await nurse.tap("Record");
    await nurse.dialog.getByText("Look again").waitFor();
    await nurse.record("It does show this: record");
    expect((await entriesOf("demo-a")).at(-1)).toMatchObject({
      kind: "total-read",
      volume: 1455,
      confirmed: true,
    });
    expect(nurse.faults).toEqual([]);
  });

  it("is explained by a likely reason, whose effect is said before it is recorded", async () => {
    const nurse = await nurseAt("demo-a");
    await nurse.tap(WRITE_DOWN);
    await nurse.digits("155");
    await nurse.tap("Record");
    await nurse.choose("A clear nobody recorded");
    await nurse.dialog.getByText("Leaves open: A total lost").waitFor();
    await nurse.record();
    const [reset, read] = (await entriesOf("demo-a")).slice(-2);
    expect(reset).toMatchObject({ kind: "totals-reset", leaveUncaptured: { reason: "already-cleared" } });
    expect(read).toMatchObject({ kind: "total-read", volume: 155 });
  });
});

describe("a total that would be lost", () => {
  it("may be left unread, for a reason that is kept", async () => {
    const nurse = await nurseAt("demo-a");
    await nurse.tap("More of pump-2");
    await nurse.tap("Change therapy");
    await nurse.choose("The device cannot be read");
    await nurse.record();
    expect((await entriesOf("demo-a")).at(-1)).toMatchObject({
      kind: "therapy-changed",
      leaveUncaptured: { reason: "unreadable" },
    });
  });

  it("keeps the reading that was typed when the time is set back, and is asked as of then", async () => {
    const nurse = await nurseAt("demo-a");
    await nurse.tap("More of pump-2");
    await nurse.tap("Clear totals");
    await nurse.dialog.getByText("882.5\u00a0mL would be lost").waitFor();
    await nurse.digits("1545");
    await nurse.choose("10 min ago");
    await nurse.dialog.getByText("870\u00a0mL would be lost").waitFor();
    await nurse.record();
    const [read, reset] = (await entriesOf("demo-a")).slice(-2);
    const at = "2026-03-04T18:36:00-06:00";
    expect(read).toMatchObject({ kind: "total-read", volume: 1545, position: "before", at });
    expect(reset).toMatchObject({ kind: "totals-reset", totals: ["primary", "secondary"], at });
  });
});

describe("a chamber that collects", () => {
  it("is emptied with what it held, which is asked where it was left open", async () => {
    const placed = {
      kind: "chamber-placed",
      at: "2026-03-04T12:00:00-06:00",
      chamber: "chest-left",
      level: 0,
    };
    const entries = [{ ...placed, category: "chest-drain" }];
    await unit.send("encounters/demo-a/entries", { entries });
    const nurse = await nurseAt("demo-a");
    await nurse.tap("Output");
    await nurse.choose("Chest drain, chest-left");
    await nurse.choose("Emptied");
    await nurse.dialog.getByText("chest-left: nobody has written it down since 12:00.").waitFor();
    const question = nurse.dialog.getByRole("region", { name: "Question" });
    await question.getByLabel(/^Volume/).click();
    await nurse.digits("230");
    await nurse.dialog.getByText(/^Chest drain, .*becomes 230.mL/).waitFor();
    await nurse.record();
    expect((await entriesOf("demo-a")).at(-1)).toMatchObject({ kind: "chamber-emptied", level: 230 });
  });
});

describe("when something happened", () => {
  it("is a clock time of another day, and never still to come", async () => {
    const nurse = await nurseAt("demo-a");
    await nurse.tap("Output");
    await nurse.choose("Emesis");
    await nurse.digits("50");
    await nurse.choose("Another time");
    await nurse.digits("2315");
    await nurse.dialog.getByText("This time is still to come.").waitFor();
    expect(await nurse.dialog.getByRole("button", { name: "Record", exact: true }).isDisabled()).toBe(true);
    await nurse.dialog.getByLabel("Day").selectOption("2026-03-03");
    await nurse.record();
    expect((await entriesOf("demo-a")).at(-1)).toMatchObject({
      kind: "output-measured",
      at: "2026-03-03T23:15:00-06:00",
    });
  });

  it("is the end of a shift that is over, unless another time is chosen", async () => {
    const nurse = await nurseAt("demo-c", { at: "?encounter=demo-c&shift=2026-03-03/night" });
    await nurse.tap("Output");
    await nurse.dialog.getByText("At the end").waitFor();
    await nurse.choose("Urine");
    await nurse.digits("75");
    await nurse.dialog.getByText(/^Urine, 06:00–07:00: /).waitFor();
    await nurse.record();
    expect((await entriesOf("demo-c")).at(-1)).toMatchObject({ at: "2026-03-04T07:00:00-06:00" });
  });

  it("is asked about in the hour that the clock shows twice, and both are offered", async () => {
    const night = await DemoUnit.open({ at: "2026-11-01T01:10:00-06:00" });
    const { page } = await look(browser, night, { at: "?encounter=demo-a" });
    const nurse = new Nurse(page);
    await nurse.tap("Output");
    // Fifteen minutes ago the clocks had not gone back yet.
    await nurse.dialog.getByText("01:10 (-06:00)").waitFor();
    await nurse.dialog.getByText("01:55 (-05:00)").waitFor();
    await nurse.choose("Urine");
    await nurse.digits("40");
    await nurse.choose("Another time");
    await nurse.digits("0105");
    await nurse.dialog.getByText("The clock shows this time twice.").waitFor();
    expect(await nurse.dialog.getByRole("button", { name: "Record", exact: true }).isDisabled()).toBe(true);
    await nurse.choose("01:05 (-06:00)");
    await nurse.record();
    const { entries } = await night.answer<{ entries: Entry[] }>("encounters/demo-a/entries?limit=1000");
    expect(entries.at(-1)).toMatchObject({ at: "2026-11-01T01:05:00-06:00", volume: 40 });
    await page.context().close();
    await night.close();
  });
});

describe("what is sent", () => {
  it("is recorded once, though the answer was lost and it was sent again", async () => {
    const nurse = await nurseAt("demo-a");
    await nurse.tap("Output");
    await nurse.choose("Urine");
    await nurse.digits("111");
    await nurse.dialog.getByText(/^Urine, 18:00–19:00: /).waitFor();
    let lost = 0;
    await nurse.page.route("**/entries", async (route) => {
      await route.fetch();
      lost += 1;
      await route.abort();
    });
    await nurse.tap("Record");
    await nurse.dialog.getByText("No answer came").waitFor();
    await nurse.page.unroute("**/entries");
    await nurse.record();
    expect(lost).toBe(1);
    const same = (await entriesOf("demo-a")).filter(({ volume }) => volume === 111);
    expect(same).toHaveLength(1);
  });

  it("is all done by keys, with the decimal sign of the language", async () => {
    const nurse = await nurseAt("demo-a", { locale: "es-ES" });
    const { page } = nurse;
    await page.getByRole("button", { name: "Cambiar velocidad, pump-2" }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("dialog").waitFor();
    // Either sign of a keyboard is the one of the language.
    await page.keyboard.type("62.5");
    expect(await page.getByLabel("Velocidad", { exact: true }).inputValue()).toBe("62,5");
    await page.getByText("pump-2 corre luego a 62,5").waitFor();
    await page.getByLabel("Velocidad", { exact: true }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("dialog").waitFor({ state: "detached" });
    expect((await entriesOf("demo-a")).at(-1)).toMatchObject({ kind: "rate-changed", rate: 62.5 });
    await page.waitForFunction(() =>
      document.activeElement?.getAttribute("aria-label")?.startsWith("Cambiar velocidad"),
    );
  });

  it("says why a number is not taken", async () => {
    const nurse = await nurseAt("demo-a");
    await nurse.tap("Change rate, pump-2");
    await nurse.digits("62.5");
    await nurse.tap("Decimal sign");
    await nurse.dialog.getByText("One decimal sign is enough.").waitFor();
    await nurse.digits("255");
    await nurse.dialog.getByText("No more than 3 decimals count.").waitFor();
    expect(await nurse.dialog.getByLabel("Rate", { exact: true }).inputValue()).toBe("62.525");
  });
});

describe("all that is not written down", () => {
  it("is written down in one sheet, from device to device by Enter, and sent together", async () => {
    const nurse = await nurseAt("demo-g");
    const { totals } = await shiftOf("demo-g");
    const open = totals.channels
      .flatMap(({ channel, totals: all }) => all.map((total) => ({ channel, ...total })))
      .filter(({ atRisk }) => atRisk > 0)
      .sort((a, b) => b.atRisk - a.atRisk);
    expect(open.length).toBeGreaterThan(1);
    await nurse.tap("Write down all totals");
    await nurse.dialog.waitFor();
    for (const { expected } of open) {
      await nurse.page.keyboard.type(String(Math.round(expected * 10) / 10));
      if (expected === open.at(-1)?.expected) break;
      // The first is typed without its field being touched.
      if (expected === open[0]?.expected) await nurse.dialog.locator(".number input").first().focus();
      await nurse.page.keyboard.press("Enter");
    }
    await nurse.record();
    const read = (await entriesOf("demo-g")).slice(-open.length);
    expect(read.map(({ kind, channel }) => [kind, channel])).toEqual(
      open.map(({ channel }) => ["total-read", channel]),
    );
    await nurse.page.getByText("Everything the devices counted is written down.").waitFor();
  });
});

describe("what was recorded", () => {
  it("is undone from the list of entries, with a reason in words", async () => {
    const nurse = await nurseAt("demo-a");
    await nurse.page.getByText("entries of this shift").click();
    await nurse.page.getByRole("button", { name: /^Undo: Output measured, Urine, 260/ }).click();
    await nurse.choose("Another reason");
    await nurse.dialog.getByLabel("Say why").fill("Measured in the other bottle.");
    await nurse.dialog.getByText(/^Urine, 13:00–14:00: 260.mL becomes 0.mL/).waitFor();
    await nurse.record("Mark as made in error");
    expect((await entriesOf("demo-a")).at(-1)).toMatchObject({
      kind: "entry-voided",
      reason: "Measured in the other bottle.",
    });
    // What is undone can be brought back: the mark itself was made in error then.
    await nurse.tap("Undo");
    await nurse.choose("Recorded twice");
    await nurse.record("Mark as made in error");
    expect((await shiftOf("demo-a")).balance.output.total).toBe(440);
  });

  it("is put right with the numbers it had to change, and its own time unless that was wrong", async () => {
    const nurse = await nurseAt("demo-a");
    await nurse.page.getByText("entries of this shift").click();
    await nurse.tap(/^Put right: Output measured, Urine, 260/);
    expect(await nurse.dialog.getByLabel("Volume").inputValue()).toBe("260");
    expect(await nurse.dialog.getByLabel("Clock time").inputValue()).toBe("14:00");
    await nurse.field("Volume");
    await nurse.tap("Delete the last digit");
    await nurse.digits("5");
    await nurse.choose("Wrong number");
    await nurse.dialog.getByText(/^Urine, 13:00–14:00: 260.mL becomes 265.mL/).waitFor();
    await nurse.record();
    const amended = (await entriesOf("demo-a")).at(-1);
    expect(amended).toMatchObject({
      kind: "entry-amended",
      reason: "Wrong number",
      replacement: {
        kind: "output-measured",
        category: "urine",
        volume: 265,
        at: "2026-03-04T14:00:00-06:00",
      },
    });
    expect((await shiftOf("demo-a")).balance.output.total).toBe(445);
  });

  it("cannot be changed by who only reads", async () => {
    const nurse = await nurseAt("demo-a", { as: "integration" });
    expect(
      await nurse.page.getByRole("button", { name: /Write down|Change rate|Output$|Sign/ }).count(),
    ).toBe(await nurse.page.getByRole("button", { name: "Sign out" }).count());
  });
});

describe("a finding", () => {
  it("is settled by the one act that its button opens, filled in", async () => {
    const nurse = await nurseAt("demo-c", { at: "?encounter=demo-c&shift=2026-03-03/night" });
    await nurse.tap("Settle it: No reading at the end of the shift");
    await nurse.dialog.getByText("A late reading of the primary total at 07:00.").waitFor();
    const { totals } = await shiftOf("demo-c", "2026-03-03/night");
    const total = totals.channels.flatMap(({ totals: all }) => all).find(({ atRisk }) => atRisk > 0);
    await nurse.digits(String(Math.round(total!.expected)));
    await nurse.record();
    expect((await entriesOf("demo-c")).at(-1)).toMatchObject({
      kind: "total-read",
      at: "2026-03-04T07:00:00-06:00",
    });
    await nurse.page.getByText("No reading at the end of the shift").waitFor({ state: "detached" });
  });

  it("that a shift is not signed opens its signature", async () => {
    const nurse = await nurseAt("demo-e", { at: "?encounter=demo-e&shift=2026-03-03/night" });
    await nurse.tap("Settle it: A shift not signed");
    await nurse.dialog.getByText("Sign the shift: Tuesday, March 3, Night").waitFor();
    await nurse.sign();
    expect(await shiftOf("demo-e", "2026-03-03/night")).toMatchObject({ state: "final" });
  });
});

describe("signing", () => {
  it("needs a remark while questions are open", async () => {
    // A reading of a device that disagrees waits for somebody to decide: a question.
    const at = "2026-03-04T18:40:00-06:00";
    const reading = {
      kind: "total-read",
      at,
      channel: "pump-2",
      total: "primary",
      volume: 1200,
      confirmed: true,
    };
    await unit.send("encounters/demo-a/entries", { entries: [reading] });
    const { openQuestions } = await shiftOf("demo-a");
    expect(openQuestions.length).toBeGreaterThan(0);
    const nurse = await nurseAt("demo-a");
    await nurse.tap("Sign the shift");
    const sign = nurse.dialog.getByRole("button", { name: "Sign", exact: true });
    await nurse.dialog.getByText("Questions are open: say what is to be said to them.").waitFor();
    expect(await sign.isDisabled()).toBe(true);
    await nurse.dialog.getByLabel("Remark").fill("Told the doctor.");
    await sign.click();
    await nurse.dialog.getByText("Told the doctor.").waitFor();
    expect((await shiftOf("demo-a")).signatures).toMatchObject([{ remark: "Told the doctor." }]);
  });

  it("says what changed while it was looked at, and is asked for again", async () => {
    const nurse = await nurseAt("demo-a");
    // The page does not hear of it.
    await nurse.page.route("**/shifts/2026-03-04/day", (route) => route.abort());
    await nurse.tap("Sign the shift");
    const output = {
      kind: "output-measured",
      at: "2026-03-04T18:30:00-06:00",
      category: "urine",
      volume: 90,
    };
    await unit.send("encounters/demo-a/entries", { entries: [output] });
    await nurse.tap("Sign");
    await nurse.dialog.getByText("The figures changed while you looked.").waitFor();
    await nurse.dialog.getByText(/Urine, 18:00–1[89]:\d\d: you saw 0.mL, now 90.mL/).waitFor();
    await nurse.page.unroute("**/shifts/2026-03-04/day");
  });

  it("shows the difference after a correction, and is signed again", async () => {
    const nurse = await nurseAt("demo-e", { at: "?encounter=demo-e&shift=2026-03-03/night" });
    await nurse.tap("Sign the shift");
    await nurse.sign();
    await nurse.tap("Output");
    await nurse.choose("Urine");
    await nurse.digits("120");
    await nurse.record();
    await nurse.page.getByText("Signed, and changed since").waitFor();
    await nurse.tap("Sign the shift");
    await nurse.dialog.getByText("changed since", { exact: false }).first().waitFor();
    await nurse.dialog.getByText(/^Urine, 06:00–07:00: signed \d+.mL, now \d+.mL/).waitFor();
    await nurse.sign();
    await settled(nurse.page);
    expect(await shiftOf("demo-e", "2026-03-03/night")).toMatchObject({ state: "final" });
    expect(nurse.faults).toEqual([]);
  });
});
