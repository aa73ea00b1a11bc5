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

const charge = (at: string): Looking => ({ at, as: "charge-nurse" });

/** Demo patient D's first shift as somebody copied it, with two slips: 150 as 510, and 100 of emesis left out. */
export const CHART = [
  "mL,10:00,11:00,12:00,13:00,14:00,15:00,16:00,17:00,18:00,Total",
  "Urine,0,0,0,180,0,0,510,0,120,810",
  "Emesis,0,0,0,0,0,0,0,0,0,0",
  "Gastric,0,0,0,0,0,0,0,0,150,150",
].join("\n");

const paste = (text: string) => async (page: Page) => {
  await page.getByLabel("The chart as text").fill(text);
  await page.getByRole("button", { name: "Compare" }).click();
  await page.waitForSelector(".came-to, [role=alert]");
};

export const VIEWS: readonly View[] = [
  ...([
    { name: "round", looking: charge("?view=round") },
    { name: "round-before", looking: charge("?view=round&shift=2026-03-03/day") },
    { name: "round-forbidden", looking: { at: "?view=round" } },
    { name: "round-spanish", looking: { ...charge("?view=round&shift=2026-03-03/night"), locale: "es-ES" } },
    { name: "round-as-of", looking: charge("?view=round&as-of=2026-03-04T13:00:00-06:00") },
    {
      name: "round-measure",
      looking: charge("?view=round"),
      after: async (page) => {
        await page.getByRole("button", { name: /^Lines running without entries/ }).click();
        await page.getByRole("dialog").waitFor();
      },
    },
    {
      name: "round-by-measure",
      looking: charge("?view=round"),
      after: async (page) => {
        await page.getByLabel("Order").selectOption("longest-without-entry");
        await page.getByRole("columnheader", { name: "Longest a line ran" }).waitFor();
      },
    },
    {
      name: "round-failed",
      looking: charge("?view=round"),
      after: async (page) => {
        await page.route("**/v1/encounters/demo-a/shifts/**", (route) => route.abort());
        await page.getByRole("button", { name: "Earlier shift" }).click();
        await page.getByRole("alert").waitFor();
      },
    },
    { name: "findings", looking: charge("?encounter=demo-e&view=findings") },
    {
      name: "finding-looked-at",
      looking: charge("?encounter=demo-e&view=findings"),
      after: async (page) => {
        await page
          .getByRole("button", { name: /^I looked at this/ })
          .first()
          .click();
        await page.getByRole("dialog").waitFor();
      },
    },
    { name: "record", looking: charge("?encounter=demo-h&view=history&shift=2026-03-03/day") },
    {
      name: "entry-amended",
      looking: charge("?encounter=demo-h&view=history&shift=2026-03-03/day&entry=1-0500-urine"),
      after: (page) => page.getByText("As it was first recorded").waitFor(),
    },
    {
      name: "entry-voided",
      looking: charge("?encounter=demo-h&view=history&shift=2026-03-03/day&entry=1-0815-urine"),
      after: (page) => page.getByText("Marked as entered in error").waitFor(),
    },
    { name: "changes", looking: charge("?encounter=demo-e&view=changes&since=2026-03-04T04:00:00-06:00") },
    {
      name: "shift-as-of",
      looking: shift("demo-a", "&as-of=2026-03-04T13:00:00-06:00"),
      after: (page) => page.getByText("As it stood earlier").click(),
    },
    { name: "chart", looking: charge("?encounter=demo-d&view=chart&shift=2026-03-03/day") },
    {
      name: "chart-kept",
      looking: charge("?encounter=demo-d&view=chart&shift=2026-03-03/day"),
      after: async (page) => {
        await page.getByRole("button", { name: /^Paper sheet/ }).click();
        await page.waitForSelector(".came-to");
      },
    },
    {
      name: "chart-pasted",
      looking: charge("?encounter=demo-d&view=chart&shift=2026-03-03/day"),
      after: paste(CHART),
    },
    {
      name: "chart-tied",
      looking: charge("?encounter=demo-i&view=chart&shift=2026-03-03/night"),
      after: paste("mL,Total\nIntravenous fluid,750"),
    },
    {
      name: "chart-unread",
      looking: charge("?encounter=demo-d&view=chart&shift=2026-03-03/day"),
      after: paste("mL,10:00,7 pm,Total\nUrine,2 L,,\nTotal,1.250,,3\nOral,,1,"),
    },
  ] satisfies View[]),
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
  { name: "why-bag", looking: shift("demo-a"), after: why(/^dextrose-2, delivered/) },
];
