/** Every view of the page and every state it can be in, for tests and pictures of all of them. */

import type { Page } from "playwright-core";
import type { Looking } from "./browser.js";
import { Nurse } from "./nurse.js";

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

/** Opens a sheet by the button so called, and does what comes after. */
const sheet = (button: string | RegExp, after?: (nurse: Nurse) => Promise<unknown>) => async (page: Page) => {
  const nurse = new Nurse(page);
  await nurse.tap(button);
  await nurse.dialog.waitFor();
  await after?.(nurse);
  await tried(page);
};

/** Waits until what recording would do is said. */
const tried = async (page: Page) => {
  await page.waitForSelector(".effect[aria-busy=true]", { state: "detached" });
};

const more = (channel: string, act: string, after?: (nurse: Nurse) => Promise<unknown>) =>
  sheet(`More of ${channel}`, async (nurse) => {
    await nurse.tap(act);
    await after?.(nurse);
  });

const RECORDING: readonly View[] = [
  {
    name: "record-total",
    looking: shift("demo-a"),
    after: sheet(/^Write down the total, pump-2, Primary/, (nurse) => nurse.digits("1550")),
  },
  {
    name: "record-second-look",
    looking: shift("demo-a"),
    after: sheet(/^Write down the total, pump-2, Primary/, async (nurse) => {
      await nurse.digits("1455");
      await nurse.tap("Record");
      await nurse.dialog.getByText("Look again").waitFor();
    }),
  },
  {
    name: "record-reason",
    looking: shift("demo-a"),
    after: sheet(/^Write down the total, pump-2, Primary/, async (nurse) => {
      await nurse.digits("155");
      await nurse.tap("Record");
      await nurse.dialog.getByText("Look again").waitFor();
      await nurse.choose("A clear nobody recorded");
    }),
  },
  { name: "record-all", looking: shift("demo-g"), after: sheet("Write down all totals") },
  { name: "record-more", looking: shift("demo-a"), after: sheet("More of pump-2") },
  {
    name: "record-rate",
    looking: shift("demo-a"),
    after: sheet("Change rate, pump-2", async (nurse) => {
      await nurse.choose("15 min ago");
      await nurse.digits("62.5");
    }),
  },
  {
    name: "record-secondary",
    looking: shift("demo-a"),
    after: more("pump-2", "Secondary", async (nurse) => {
      await nurse.choose("A medication in dextrose");
      await nurse.dialog.getByLabel("Which medication").fill("Cefazolin");
      await nurse.field("Volume");
      await nurse.digits("250");
      await nurse.field("Rate");
      await nurse.digits("500");
    }),
  },
  {
    name: "record-bag",
    looking: shift("demo-a"),
    after: sheet("Hang a bag, pump-1", (nurse) => nurse.choose("Another fluid")),
  },
  {
    name: "record-bolus",
    looking: shift("demo-a"),
    after: more("pump-2", "Bolus", (nurse) => nurse.digits("50")),
  },
  {
    name: "record-loss",
    looking: shift("demo-a"),
    after: more("pump-2", "Change therapy", (nurse) => nurse.dialog.getByText("would be lost").waitFor()),
  },
  {
    name: "record-loss-left",
    looking: shift("demo-a"),
    after: more("pump-2", "Clear totals", async (nurse) => {
      await nurse.dialog.getByText("would be lost").waitFor();
      await nurse.choose("Another reason");
    }),
  },
  {
    name: "record-output",
    looking: shift("demo-d", "&shift=2026-03-03/day"),
    after: sheet("Output", async (nurse) => {
      await nurse.choose("Drain");
      await nurse.digits("120");
    }),
  },
  {
    name: "record-time",
    looking: shift("demo-a"),
    after: sheet("Intake", async (nurse) => {
      await nurse.choose("Oral");
      await nurse.choose("Another time");
      await nurse.digits("2315");
    }),
  },
  {
    name: "record-connect",
    looking: shift("demo-a"),
    after: sheet("Connect a channel", (nurse) => nurse.choose("A new line")),
  },
  {
    name: "record-settle",
    looking: shift("demo-e", "&shift=2026-03-03/night"),
    after: sheet("Settle it: A total lost"),
  },
  {
    name: "record-entries",
    looking: shift("demo-a"),
    after: (page) => page.getByText("entries of this shift").click(),
  },
  {
    name: "record-undo",
    looking: shift("demo-a"),
    after: async (page) => {
      await page.getByText("entries of this shift").click();
      await page
        .getByRole("button", { name: /^Undo: Output measured/ })
        .first()
        .click();
      await page.getByRole("dialog").waitFor();
    },
  },
  {
    name: "record-amend",
    looking: shift("demo-a"),
    after: async (page) => {
      await page.getByText("entries of this shift").click();
      await page
        .getByRole("button", { name: /^Put right: Bag hung/ })
        .first()
        .click();
      await page.getByRole("dialog").waitFor();
    },
  },
  {
    name: "record-spanish",
    looking: { ...shift("demo-a"), locale: "es-ES" },
    after: async (page) => {
      await page.getByRole("button", { name: "Más de pump-2" }).click();
      await page.getByRole("button", { name: "Cambiar terapia" }).click();
      await page.getByText("Se perderían").waitFor();
    },
  },
  { name: "sign", looking: shift("demo-a"), after: sheet("Sign the shift") },
  { name: "sign-over", looking: shift("demo-e", "&shift=2026-03-03/night"), after: sheet("Sign the shift") },
];

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
      after: paste("mL,Total\nIntravenous fluid,1000"),
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
  ...RECORDING,
];
