/** What stands where figures would: nothing yet, loading, failures, and another language. */

import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { launch, look } from "./browser.js";
import { DemoUnit } from "./demo-unit.js";

let browser: Browser;
let unit: DemoUnit;

beforeAll(async () => {
  [browser, unit] = await Promise.all([launch(), DemoUnit.open()]);
});

afterAll(async () => {
  await browser.close();
  await unit.close();
});

describe("where nothing is", () => {
  it("says that there is no unit, and that nothing is recorded of a patient", async () => {
    const bare = await DemoUnit.open({ empty: true });
    const { page } = await look(browser, bare);
    await page.getByText("There is no unit you may see yet.").waitFor();
    const shifts = [{ name: "day", starts: "07:00" }];
    await bare.send("units", { id: "east", name: "East", zone: "America/Chicago", shifts }, "administrator");
    const admitted = { id: "new", unit: "east", patient: { identifier: "P-1" } };
    await bare.send("encounters", { ...admitted, admittedAt: "2026-03-04T18:00:00-06:00" });
    const stay = await look(browser, bare, { at: "?encounter=new" });
    await stay.page.getByText("Nothing is recorded for this shift.").waitFor();
    await stay.page.getByText("No channel is connected.").waitFor();
    expect(stay.faults).toEqual([]);
    await page.context().close();
    await stay.page.context().close();
    await bare.close();
  });

  it("says that a patient is not there, or not theirs", async () => {
    const { page } = await look(browser, unit, { at: "?encounter=nobody" });
    await page.getByText("There is no such patient, or none of yours.").waitFor();
  });
});

describe("where the service does not answer", () => {
  it("keeps what was shown, says from when it is, and tries again", async () => {
    const { page } = await look(browser, unit, { at: "?encounter=demo-a" });
    await page.route("**/v1/encounters/**", (route) => route.abort());
    await page.getByRole("button", { name: "Earlier shift" }).click();
    await page.getByRole("alert").getByText("The ledger does not answer.").waitFor();
    expect(await page.getByRole("alert").textContent()).toContain(
      "The figures below are as they were at 18:46.",
    );
    await page
      .getByRole("button", { name: /^Intake, the shift/ })
      .first()
      .waitFor();
    await page.unroute("**/v1/encounters/**");
    await page.getByRole("button", { name: "Try again" }).click();
    await page.getByRole("alert").waitFor({ state: "detached" });
    await page.getByText("This shift is over.").waitFor();
  });

  it("says so at once where nothing was shown yet", async () => {
    const { page } = await look(browser, unit);
    await page.route("**/v1/encounters/**", (route) => route.abort());
    await page.getByRole("link", { name: /Demo Patient A/ }).click();
    await page.getByRole("alert").getByText("The ledger does not answer.").waitFor();
    expect(await page.getByRole("alert").textContent()).not.toContain("as they were");
  });

  it("says that it loads while it does", async () => {
    const { page } = await look(browser, unit);
    await page.route("**/v1/encounters/**", () => {});
    await page.getByRole("link", { name: /Demo Patient A/ }).click();
    await page.getByRole("status").getByText("Loading").waitFor();
  });
});

describe("the night in which the clocks go back", () => {
  it("has thirteen hours, one of them twice, and begins at the present where they are wider than a tablet", async () => {
    const night = await DemoUnit.open({ at: "2026-11-01T06:46:00-06:00" });
    const { page, faults } = await look(browser, night, {
      at: "?encounter=demo-a",
      size: { width: 768, height: 1024 },
    });
    const hours = await page.$$eval("table.hours:first-of-type thead th", (cells) =>
      cells.map((cell) => cell.textContent ?? ""),
    );
    expect(hours.filter((hour) => hour.startsWith("01:00"))).toEqual([
      "01:00–02:00-05:00",
      "01:00–02:00-06:00",
    ]);
    // The name of the row, thirteen hours, the shift.
    expect(hours).toHaveLength(15);
    const hidden = await page.$eval(".sheet", ({ scrollLeft, scrollWidth, clientWidth }) => ({
      before: scrollLeft,
      after: scrollWidth - clientWidth - scrollLeft,
    }));
    expect(hidden.before).toBeGreaterThan(0);
    expect(hidden.after).toBeLessThan(1);
    expect(faults).toEqual([]);
    await page.context().close();
    await night.close();
  });
});

describe("a second language", () => {
  it("is the browser's own, and everything that is the page's is in it", async () => {
    const { page } = await look(browser, unit, { at: "?encounter=demo-a", locale: "es-ES" });
    await page.getByRole("heading", { name: "Por anotar" }).waitFor();
    expect(await page.getAttribute("html", "lang")).toBe("es");
    expect(await page.title()).toBe("Registro de infusiones del turno");
    // What the service says in English is marked as that; what people wrote stays as it is.
    const own = await page.evaluate(() => {
      const copy = document.body.cloneNode(true) as HTMLElement;
      for (const other of copy.querySelectorAll("noscript, [lang]:not([lang=es])")) other.remove();
      return copy.textContent ?? "";
    });
    expect(own).not.toMatch(/\b(the|shift|down|since|output|intake|written)\b/i);
  });

  it("is chosen by hand and kept, with its numbers", async () => {
    const { page } = await look(browser, unit, { at: "?encounter=demo-a" });
    await page.getByLabel("Language").selectOption("es");
    await page.getByRole("heading", { name: "Entradas, salidas y orina" }).waitFor();
    await page.reload();
    await page.getByRole("heading", { name: "Entradas, salidas y orina" }).waitFor();
    expect(
      await page.getByRole("button", { name: /^Balance desde el ingreso, el turno/ }).textContent(),
    ).toMatch(/^\d{1,3}(\u202f\d{3})*(,\d)? mL$/);
  });
});
