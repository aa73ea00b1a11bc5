/**
 * How many touches it takes to record what is recorded most often, from the idle page of a shift, signed in, to the
 * entry recorded. Digits are not counted. The paths are printed.
 */

import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from "vitest";
import { launch, look } from "./browser.js";
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

interface Recording {
  readonly name: string;
  readonly most: number;
  readonly encounter: string;
  readonly path: (nurse: Nurse, back: () => Promise<void>) => Promise<void>;
}

const COMMONEST: readonly Omit<Recording, "most">[] = [
  {
    name: "a total",
    encounter: "demo-a",
    path: async (nurse, back) => {
      await nurse.tap(/^Write down the total, pump-2, Primary total/);
      await back();
      await nurse.digits("1550");
      await nurse.record();
    },
  },
  {
    name: "a change of rate",
    encounter: "demo-a",
    path: async (nurse, back) => {
      await nurse.tap("Change rate, pump-2");
      await back();
      await nurse.digits("62.5");
      await nurse.record();
    },
  },
  {
    name: "an output",
    encounter: "demo-a",
    path: async (nurse, back) => {
      await nurse.tap("Output");
      await nurse.choose("Urine");
      await back();
      await nurse.digits("180");
      await nurse.record();
    },
  },
  {
    name: "an intake",
    encounter: "demo-a",
    path: async (nurse, back) => {
      await nurse.tap("Intake");
      await nurse.choose("Oral");
      await back();
      await nurse.digits("150");
      await nurse.record();
    },
  },
  {
    name: "a secondary",
    encounter: "demo-a",
    path: async (nurse, back) => {
      await nurse.tap("More of pump-2");
      await nurse.tap("Secondary");
      await nurse.choose("Piperacillin and tazobactam");
      await back();
      await nurse.digits("100");
      await nurse.field("Rate");
      await nurse.digits("200");
      await nurse.record();
    },
  },
];

const BACK = "10 min ago";

/** Records it, and gives back who tapped what. */
async function tapped({ encounter, path }: Omit<Recording, "most">, back: boolean): Promise<Nurse> {
  const { page, faults } = await look(browser, unit, { at: `?encounter=${encounter}` });
  const nurse = new Nurse(page);
  const entries = () =>
    unit.answer<{ asOf: { sequence: number } }>(`encounters/${encounter}/entries?limit=1`);
  const before = (await entries()).asOf.sequence;
  await path(nurse, back ? () => nurse.choose(BACK) : async () => {});
  expect((await entries()).asOf.sequence).toBeGreaterThan(before);
  expect(faults).toEqual([]);
  await page.context().close();
  return nurse;
}

function say(name: string, { path }: Nurse): void {
  console.log(`${name}: ${path.length} touches: ${path.join(" > ")}`);
}

it.each(COMMONEST)("$name takes at most six touches", async (recording) => {
  const nurse = await tapped(recording, false);
  say(recording.name, nurse);
  expect(nurse.path.length).toBeLessThanOrEqual(6);
});

it.each(COMMONEST)("$name ten minutes ago takes at most eight", async (recording) => {
  const nurse = await tapped(recording, true);
  say(`${recording.name}, ten minutes ago`, nurse);
  expect(nurse.path).toContain(BACK);
  expect(nurse.path.length).toBeLessThanOrEqual(8);
});

it("a reading with a change of therapy and its question takes at most ten", async () => {
  const recording = {
    name: "a reading with a change of therapy",
    encounter: "demo-g",
    path: async (nurse: Nurse) => {
      const { totals } = await unit.answer<{ totals: { channels: Channel[] } }>(
        "encounters/demo-g/shifts/2026-03-04/day",
      );
      const risky = totals.channels.find(
        ({ totals: all }) => all.filter((one) => one.atRisk > 2).length === 1,
      );
      const total = risky!.totals.find(({ atRisk }) => atRisk > 2)!;
      await nurse.tap(`More of ${risky!.channel}`);
      await nurse.tap("Change therapy");
      await nurse.dialog.getByText("would be lost").waitFor();
      await nurse.digits(String(Math.round(total.expected * 10) / 10));
      await nurse.record();
    },
  };
  const nurse = await tapped(recording, false);
  say(recording.name, nurse);
  expect(nurse.path.length).toBeLessThanOrEqual(10);
});

interface Channel {
  readonly channel: string;
  readonly totals: readonly { readonly expected: number; readonly atRisk: number }[];
}
