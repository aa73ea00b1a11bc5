/** The charge nurse: from signing in to a finding looked at, an entry's history, an earlier moment, a chart compared. */

import { readFile } from "node:fs/promises";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { components } from "../../openapi/client.js";
import { readBack } from "../wire/csv.js";
import { launch, look, settled } from "./browser.js";
import { DemoUnit, PASSWORD } from "./demo-unit.js";
import { CHART } from "./views.js";

type Schemas = components["schemas"];

let browser: Browser;
let unit: DemoUnit;

beforeAll(async () => {
  [browser, unit] = await Promise.all([launch(), DemoUnit.open()]);
  const account = { username: "c.round", name: "Cora Round (invented)", role: "charge-nurse", units: null };
  await unit.send("accounts", { ...account, password: PASSWORD }, "administrator");
});

afterAll(async () => {
  await browser.close();
  await unit.close();
});

const lookAt = (at: string, as = "charge-nurse") => look(browser, unit, { at, as });
const plain = (text: string | null) => (text ?? "").replaceAll("\u00a0", " ");
const beds = (page: Page) => page.locator("table.round tbody th .bed").allTextContents();

/** The audit as the API has it. */
async function audit(query = ""): Promise<Schemas["UnitAudit"]> {
  const headers = { authorization: `Bearer ${unit.token("charge-nurse")}` };
  const address = `${unit.url}v1/units/demo-unit/audit?shift=2026-03-04/day${query}`;
  return (await (await fetch(address, { headers })).json()) as Schemas["UnitAudit"];
}

describe("a charge nurse", () => {
  it("comes from signing in to a finding looked at, with a remark that stands in the record", async () => {
    const { page, faults } = await look(browser, unit, { as: null });
    await page.getByLabel("Name").fill("c.round");
    await page.getByLabel("Password").fill(PASSWORD);
    await page.getByRole("button", { name: "Sign in" }).click();
    await page.getByRole("link", { name: "The round" }).click();
    await page.getByRole("button", { name: "Earlier shift" }).click();
    await page.getByText("Night, 19:00–07:00").waitFor();
    await settled(page);
    await page.getByRole("link", { name: /Demo Patient E/ }).click();
    const lost = page.getByRole("listitem").filter({ hasText: "A total lost" });
    await lost.getByRole("button", { name: /^I looked at this/ }).click();
    const sheet = page.getByRole("dialog");
    const record = sheet.getByRole("button", { name: "Record it" });
    expect(await record.isDisabled()).toBe(true);
    await sheet.getByLabel("Why it may stand").fill("Read off too late, the pump was cleared at 01:00.");
    await record.click();
    await sheet.waitFor({ state: "detached" });
    const looked = page.getByRole("region", { name: /^Looked at/ });
    await looked.getByText("Looked at by Cora Round (invented) at 18:46").waitFor();
    expect(plain(await looked.textContent())).toContain(
      "“Read off too late, the pump was cleared at 01:00.”",
    );
    const { findings } = await unit.answer<Schemas["FindingList"]>(
      "encounters/demo-e/findings?state=acknowledged",
    );
    expect(findings.map(({ code, acknowledged }) => [code, acknowledged?.by.name])).toEqual([
      ["totals-lost", "Cora Round (invented)"],
    ]);
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it("sees first who has most that nobody wrote down, and each measure as the audit has it", async () => {
    const { page, faults } = await lookAt("?view=round");
    const { measures, encounters } = await audit();
    const atRisk = await Promise.all(
      encounters.map(async ({ encounter }) => {
        const { totals } = await unit.answer<Schemas["ShiftFigures"]>(
          `encounters/${encounter}/shifts/2026-03-04/day`,
        );
        const stay = await unit.answer<Schemas["EncounterWithShifts"]>(`encounters/${encounter}`);
        const all = totals.channels.flatMap((channel) => channel.totals);
        return { bed: `Bed ${stay.bed}`, volume: all.reduce((sum, one) => sum + one.atRisk, 0) };
      }),
    );
    const most = atRisk.filter(({ volume }) => volume > 0).sort((a, b) => b.volume - a.volume);
    expect(most.length).toBeGreaterThan(2);
    expect((await beds(page)).slice(0, most.length)).toEqual(most.map(({ bed }) => bed));
    await page.getByText("more of which nothing can be told").click();
    const shown = await page.locator(".measures button").allTextContents();
    expect(new Set(shown)).toEqual(new Set(measures.map(({ label, n, of }) => `${label}${n} of ${of}`)));
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it("reads in one tap what a measure is, sees only whom it counts, and takes that away as CSV", async () => {
    const { page, faults } = await lookAt("?view=round");
    const { measures } = await audit();
    const measure = measures.find(({ key }) => key === "unknown-minutes")!;
    await page.getByRole("button", { name: /^Time unknown/ }).click();
    const sheet = page.getByRole("dialog");
    expect(await sheet.textContent()).toContain(measure.definition);
    expect(await sheet.textContent()).toContain(measure.counting);
    await sheet.getByRole("button", { name: "Show only this patient" }).click();
    await page.getByText("1 patient, computed up to 18:46").waitFor();
    expect(await beds(page)).toEqual(["Bed 4"]);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save as CSV" }).click(),
    ]);
    expect(download.suggestedFilename()).toBe("demo-unit-2026-03-04-day.csv");
    const [header, ...rows] = readBack(await readFile(await download.path(), "utf8"));
    expect(header).toContain("unknown-minutes (min)");
    const [kind, which] = ["row", "encounter"].map((name) => header!.indexOf(name));
    const encounterRows = rows.filter((row) => row[kind!] === "encounter");
    expect(encounterRows.map((row) => row[which!])).toEqual(["demo-d"]);
    await page.getByLabel("Show").selectOption("all patients");
    await page.getByLabel("Order").selectOption("longest-without-entry");
    await page.getByRole("columnheader", { name: "Longest a line ran without an entry" }).waitFor();
    await page.getByText("8 patients, computed").waitFor();
    const { encounters } = await audit("&sort=longest-without-entry");
    const stays = await unit.answer<Schemas["EncounterList"]>("encounters?unit=demo-unit");
    const bedOf = (id: string) => `Bed ${stays.encounters.find((stay) => stay.id === id)?.bed}`;
    expect(await beds(page)).toEqual(encounters.map(({ encounter }) => bedOf(encounter)));
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it("reads an entry's history: both times, who, old values beside new ones, and why", async () => {
    const { page, faults } = await lookAt("?encounter=demo-h&view=history&shift=2026-03-03/day");
    await page.getByRole("button", { name: /8,500.*amended since/ }).click();
    const sheet = page.getByRole("dialog");
    await sheet.getByText("As it was first recorded").waitFor();
    const steps = sheet.locator(".steps > li");
    expect(plain(await steps.nth(0).textContent())).toMatch(
      /Urine, 8,500 mLHappened12:00 on Tuesday, March 3Written down12:00 on Tuesday, March 3ByDana Daytime/,
    );
    expect(plain(await steps.nth(1).textContent())).toMatch(
      /^AmendedWhy: typed one zero too manyWritten down12:20 on Tuesday, March 3ByDana Daytime/,
    );
    expect(await steps.nth(1).locator("tbody td").allTextContents()).toEqual([
      "8,500\u00a0mL",
      "850\u00a0mL",
    ]);
    await page.keyboard.press("Escape");
    await sheet.waitFor({ state: "detached" });
    await page.getByRole("button", { name: /600.*entered in error/ }).click();
    await page.getByText("Marked as entered in error").waitFor();
    expect(await sheet.textContent()).toContain("The entry does not count.");
    expect(faults).toEqual([]);
    await page.context().close();
  });
});

describe("an earlier moment", () => {
  it("is said in a band, has the figures known then, and leads back to now", async () => {
    const { page, faults } = await lookAt(
      "?encounter=demo-h&view=history&shift=2026-03-03/day&entry=1-0500-urine",
    );
    await page.getByRole("button", { name: "The shift as it stood then" }).first().click();
    const band = page.getByRole("note").filter({ hasText: "As it stood at 12:00 on Tuesday, March 3." });
    await band.waitFor();
    await settled(page);
    const output = () =>
      page
        .getByRole("button", { name: /^Output, the shift/ })
        .first()
        .getAttribute("aria-label");
    const then = await unit.answer<Schemas["ShiftFigures"]>(
      "encounters/demo-h/shifts/2026-03-03/day?asOf=2026-03-03T12:00:00-06:00",
    );
    const total = (value: number) => value.toLocaleString("en-US");
    expect(await output()).toContain(`: ${total(then.balance.output.total)}\u00a0mL`);
    expect(then.balance.output.total).toBeGreaterThan(8_000);
    await page.getByRole("button", { name: "Back to now" }).click();
    await band.waitFor({ state: "detached" });
    await settled(page);
    const now = await unit.answer<Schemas["ShiftFigures"]>("encounters/demo-h/shifts/2026-03-03/day");
    await page
      .getByRole("button", { name: `Output, the shift: ${total(now.balance.output.total)}\u00a0mL. Why?` })
      .first()
      .waitFor();
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it("is chosen by the ward's clock, and takes findings with it, which nobody can answer then", async () => {
    const { page } = await lookAt("?encounter=demo-e&view=findings");
    await page.getByText("As it stood earlier").click();
    await page.getByLabel("Moment, by the ward’s clock").fill("2026-03-03T20:30");
    await page.getByRole("button", { name: "Show it as it stood then" }).click();
    await page.getByText("As it stood at 20:30 on Tuesday, March 3.").waitFor();
    await settled(page);
    const { findings } = await unit.answer<Schemas["FindingList"]>(
      "encounters/demo-e/findings?state=all&asOf=2026-03-03T20:30:00-06:00",
    );
    expect(await page.locator(".finding").count()).toBe(findings.length);
    expect(await page.getByRole("button", { name: /^I looked at this/ }).count()).toBe(0);
    expect(page.url()).toContain("as-of=2026-03-03T20:30:00-06:00");
    await page.context().close();
  });

  it("and another have between them the entries recorded and the figures they moved", async () => {
    const { page, faults } = await lookAt("?encounter=demo-h&view=changes&shift=2026-03-03/day");
    const since = "2026-03-03T12:10:00-06:00";
    await page.getByLabel("From").fill("2026-03-03T12:10");
    await page.getByRole("button", { name: "Show" }).first().click();
    await page.getByLabel("To").fill("2026-03-03T12:30");
    await page.getByRole("button", { name: "Show" }).nth(1).click();
    await page.getByText("to 12:30 on Tuesday, March 3 1 entry was recorded.").waitFor();
    const asOf = "2026-03-03T12:30:00-06:00";
    const changes = await unit.answer<Schemas["Changes"]>(
      `encounters/demo-h/changes?since=${since}&asOf=${asOf}`,
    );
    expect(changes.figures.length).toBeGreaterThan(0);
    expect(await page.locator(".old-new tbody tr").count()).toBe(Math.min(20, changes.figures.length));
    const urine = page.getByRole("row", { name: /^Urine 11:00–12:00/ });
    expect(await urine.getByRole("cell").allTextContents()).toEqual([
      "8,500\u00a0mL",
      "850\u00a0mL",
      expect.stringContaining("the entry"),
    ]);
    expect(faults).toEqual([]);
    await page.context().close();
  });
});

describe("a chart beside the ledger", () => {
  it("is pasted with two slips, shown cell by cell with what may have happened, and kept", async () => {
    const { page, faults } = await lookAt("?encounter=demo-d&view=chart&shift=2026-03-03/day");
    await page.getByLabel("The chart as text").fill(CHART);
    await page.getByRole("button", { name: "Compare" }).click();
    await page.getByText("4 of 30 figures differ.").waitFor();
    const row = (name: string) => page.getByRole("row", { name: new RegExp(`^${name}`) });
    const differing = row("Urine").locator("td.differs");
    expect(await differing.allTextContents()).toEqual([
      "≠differs, number 1510ledger 150",
      "≠differs, number 2810ledger 450",
    ]);
    const explained = page.locator("tr.explained");
    expect(await explained.nth(0).textContent()).toContain("Two digits swapped");
    expect(await explained.nth(0).textContent()).toContain("It follows from: Urine, 16:00–17:00");
    expect(await explained.nth(1).textContent()).toContain("Left out");
    // Right under the row it is about.
    expect(await page.locator("table.chart tbody tr").nth(1).getAttribute("class")).toBe("explained");
    await explained
      .nth(1)
      .getByRole("button", { name: /^The entry/ })
      .first()
      .click();
    await page.getByRole("dialog").getByText("As it was first recorded").waitFor();
    await page.keyboard.press("Escape");
    await page.getByLabel("What it was copied from").fill("Paper sheet, second copy");
    await page.getByRole("button", { name: "Keep this chart" }).click();
    await page.getByRole("button", { name: "Paper sheet, second copy", pressed: true }).waitFor();
    await page.getByText("4 of 30 figures differ.").waitFor();
    const { charts } = await unit.answer<Schemas["ChartList"]>("encounters/demo-d/charts");
    expect(charts.map(({ source, count }) => [source, count]).at(-1)).toEqual([
      "Paper sheet, second copy",
      30,
    ]);
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it("names ties and what it takes two slips for, and claims nothing where chance would do", async () => {
    const { page, faults } = await lookAt("?encounter=demo-i&view=chart&shift=2026-03-03/night");
    const compare = async () => {
      await page.getByLabel("The chart as text").fill("mL,Total\nIntravenous fluid,1000");
      await page.getByRole("button", { name: "Compare" }).click();
      await page.waitForSelector(".explanations");
    };
    const explained = page.locator(".explanations > li");
    await compare();
    const said = await explained.allTextContents();
    expect(said).toHaveLength(2);
    for (const one of said) {
      expect(one).toContain("as likely as another at place 1");
      expect(one).toContain("Together with");
      expect(one).not.toContain("would fit");
    }
    // No chart of the demo's is as doubtful: the answer is made so on its way.
    await page.route("**/reconciliation", async (route) => {
      const response = await route.fetch();
      const answer = (await response.json()) as Schemas["Reconciliation"];
      const differences = answer.differences.map((one) => ({
        ...one,
        explanations: one.explanations.map((explanation) => ({ ...explanation, hedged: true })),
      }));
      await route.fulfill({ response, json: { ...answer, differences } });
    });
    await page.getByRole("button", { name: "Compare" }).click();
    await page.getByText("Each of these would fit, and so may chance; none is claimed:").waitFor();
    for (const one of await explained.allTextContents()) expect(one).toContain("would fit");
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it("is uploaded, and what cannot be read of it is named by its cell, with nothing compared", async () => {
    const { page } = await lookAt("?encounter=demo-d&view=chart&shift=2026-03-03/day");
    const buffer = Buffer.from("\ufeffmL;10:00;noon\r\nUrine;1,250;5\r\n");
    await page.getByLabel("Or a file").setInputFiles({ name: "chart.csv", mimeType: "text/csv", buffer });
    await page.waitForFunction(() => document.querySelector("textarea")?.value.includes("Urine"));
    await page.getByRole("button", { name: "Compare" }).click();
    const said = await page.getByRole("alert").textContent();
    expect(said).toContain("2 cells cannot be read. Nothing was compared.");
    expect(said).toContain("“noon” is neither an hour, such as 09:00, nor total.");
    expect(said).toContain("line 2, Urine, 10:00: “1,250” may be thousands or thousandths");
    expect(await page.locator("table.chart").count()).toBe(0);
    await page.context().close();
  });

  it("is compared by a nurse too, who keeps none", async () => {
    const { page } = await lookAt("?encounter=demo-d&view=chart&shift=2026-03-03/day", "nurse");
    await page.getByLabel("The chart as text").fill(CHART);
    await page.getByRole("button", { name: "Compare" }).click();
    await page.getByText("figures differ.").waitFor();
    expect(await page.getByRole("button", { name: "Keep this chart" }).count()).toBe(0);
    await page.context().close();
  });
});

describe("a nurse", () => {
  it("is not led to the round, and told so who goes there all the same", async () => {
    const { page } = await lookAt("", "nurse");
    expect(await page.getByRole("link", { name: "The round" }).count()).toBe(0);
    const { page: there } = await lookAt("?view=round", "nurse");
    await there.getByRole("alert").getByText("Your role may not see this.").waitFor();
    await Promise.all([page.context().close(), there.context().close()]);
  });
});
