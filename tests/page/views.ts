/** Every view of the page and every state it can be in, for tests and pictures of all of them. */

import type { Page } from "playwright-core";
import type { Looking } from "./browser.js";

export interface View {
  /** A name that can be a file's. */
  readonly name: string;
  readonly looking: Looking;
  /** What is done once it is open. */
  readonly after?: (page: Page) => Promise<unknown>;
}

const shift = (encounter: string, named = ""): Looking => ({ at: `?encounter=${encounter}${named}` });

/** Opens the sheet that says why, of the figure so called. */
const why = (name: RegExp) => async (page: Page) => {
  await page.getByRole("button", { name }).first().click();
  await page.getByRole("dialog").waitFor();
  await page.waitForSelector("[role=status]", { state: "detached" });
};

export const VIEWS: readonly View[] = [
  { name: "sign-in", looking: { as: null } },
  {
    name: "sign-in-refused",
    looking: { as: null },
    after: async (page) => {
      await page.getByLabel("Name").fill("nobody");
      await page.getByRole("button", { name: "Sign in" }).click();
      await page.getByRole("alert").waitFor();
    },
  },
  { name: "patients", looking: {} },
  {
    name: "patients-failed",
    looking: {},
    after: async (page) => {
      await page.route("**/v1/encounters?**", (route) => route.abort());
      await page.getByRole("checkbox").click();
      await page.getByRole("alert").waitFor();
    },
  },
  { name: "shift", looking: shift("demo-a") },
  { name: "shift-many-lines", looking: shift("demo-g") },
  { name: "shift-open", looking: shift("demo-e", "&shift=2026-03-03/night") },
  { name: "shift-lost", looking: shift("demo-i", "&shift=2026-03-03/night") },
  { name: "shift-drains", looking: shift("demo-d", "&shift=2026-03-03/day") },
  { name: "shift-spanish", looking: { ...shift("demo-c"), locale: "es-ES" } },
  {
    name: "shift-unfolded",
    looking: shift("demo-e", "&shift=2026-03-03/night"),
    after: (page) =>
      page.evaluate(() => {
        for (const details of document.querySelectorAll("details")) details.open = true;
      }),
  },
  {
    name: "shift-failed",
    looking: shift("demo-a"),
    after: async (page) => {
      await page.route("**/v1/encounters/**", (route) => route.abort());
      await page.getByRole("button", { name: "Earlier shift" }).click();
      await page.getByRole("alert").waitFor();
    },
  },
  { name: "shift-not-there", looking: shift("nobody") },
  {
    name: "loading",
    looking: {},
    after: async (page) => {
      await page.route("**/v1/encounters/**", () => {});
      await page.getByRole("link", { name: /Demo Patient A/ }).click();
      await page.getByRole("status").waitFor();
    },
  },
  {
    name: "why-volume",
    looking: shift("demo-a"),
    after: why(/^Right internal jugular, medial lumen, 09:00/),
  },
  { name: "why-sum", looking: shift("demo-g"), after: why(/^All lines, the shift/) },
  { name: "why-urine", looking: shift("demo-a"), after: why(/^Urine, the shift/) },
  { name: "why-net", looking: shift("demo-a"), after: why(/^Net, the shift/) },
  { name: "why-cumulative", looking: shift("demo-e"), after: why(/^Net since admission, the shift/) },
  { name: "why-device", looking: shift("demo-a"), after: why(/^pump-2, Primary total/) },
  { name: "print-handover", looking: shift("demo-e", "&shift=2026-03-03/night&print=handover&paper=a4") },
  { name: "print-chart", looking: shift("demo-g", "&print=chart&paper=letter") },
  { name: "print-spanish", looking: { ...shift("demo-d", "&print=handover"), locale: "es-ES" } },
  { name: "print-not-there", looking: shift("nobody", "&print=chart") },
  {
    name: "print-failed",
    looking: shift("demo-a", "&print=chart&paper=a4"),
    after: async (page) => {
      await page.route("**/*.ttf", (route) => route.abort());
      await page.getByRole("button", { name: "Save as PDF" }).click();
      await page.getByText("The PDF could not be made.").waitFor();
    },
  },
  { name: "why-bag", looking: shift("demo-a"), after: why(/^dextrose-2, delivered/) },
];
