/**
 * Sheets of paper as they come out of the printer and as the PDF that is saved: both are read page by page. Who,
 * the caution, the digest and the page's number are on every one, and every figure is the API's.
 */

import { readFile } from "node:fs/promises";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { components } from "../../openapi/client.js";
import { launch, look } from "./browser.js";
import { DemoUnit } from "./demo-unit.js";
import { type PdfPage, pagesOf } from "./pdf.js";

type Shift = components["schemas"]["ShiftFigures"];
type Stay = components["schemas"]["EncounterWithShifts"];

let browser: Browser;
let unit: DemoUnit;

beforeAll(async () => {
  [browser, unit] = await Promise.all([launch(), DemoUnit.open()]);
});

afterAll(async () => {
  await browser.close();
  await unit.close();
});

/** The sheet as the browser prints it, and as it is saved. */
async function printed(at: string, locale = "en-US"): Promise<Record<"printed" | "saved", PdfPage[]>> {
  const { page, faults } = await look(browser, unit, { at: `?${at}`, locale });
  const onPaper = await page.pdf({ preferCSSPageSize: true });
  const saved = await savedFrom(page);
  expect(faults).toEqual([]);
  await page.context().close();
  const both = { printed: await pagesOf(onPaper), saved: await pagesOf(saved) };
  for (const pages of Object.values(both)) expect(pages.flatMap(({ cut }) => cut)).toEqual([]);
  return both;
}

async function savedFrom(page: Page): Promise<Uint8Array> {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: /PDF/ }).click(),
  ]);
  return readFile(await download.path());
}

const written = (value: number) =>
  value.toLocaleString("en-US", { maximumFractionDigits: 3 }).replace("-", "\u2212");

async function latestOf(encounter: string): Promise<Shift> {
  const { shifts } = await unit.answer<Stay>(`encounters/${encounter}`);
  return unit.answer<Shift>(`encounters/${encounter}/shifts/${shifts[0]?.date}/${shifts[0]?.name}`);
}

const SIZES = {
  a4: { handover: [210, 297], chart: [297, 210] },
  letter: { handover: [216, 279], chart: [279, 216] },
} as const;

describe.each(["a4", "letter"] as const)("on %s", (paper) => {
  it.each(["handover", "chart"] as const)(
    "every page of a %s says whose it is, and what it is",
    async (kind) => {
      const { asOf } = await latestOf("demo-g");
      const both = await printed(`encounter=demo-g&print=${kind}&paper=${paper}`);
      for (const pages of Object.values(both)) {
        expect(pages.length).toBeLessThanOrEqual(2);
        for (const [index, { text, size }] of pages.entries()) {
          expect(size).toEqual(SIZES[paper][kind]);
          for (const part of [
            "Demo Patient G",
            "DEMO-G",
            "Bed 7, Demo unit (invented)",
            "Wednesday, March 4 (2026-03-04), Day 07:00 to 19:00, UTC\u221206:00, computed up to 18:46",
            "look at the device, the bag and the patient first. Local policy and licensed practice decide.",
            asOf.digest,
            `page ${index + 1} of ${pages.length}`,
          ]) {
            expect(text).toContain(part);
          }
        }
      }
    },
  );
});

describe("what a sheet says", () => {
  it.each(["demo-a", "demo-d", "demo-e", "demo-i"])(
    "of %s are the API's figures, with their sums",
    async (encounter) => {
      const { volumes, balance } = await latestOf(encounter);
      const rows = [
        ...volumes.rows.map((row) => [row.key === null ? "No line" : row.label, ...row.volumes, row.total]),
        ["All lines", ...volumes.sums, volumes.total],
        ["Intake", ...balance.intake.sums, balance.intake.total],
        ["Output", ...balance.output.sums, balance.output.total],
        ["Net", ...balance.net, balance.netTotal],
      ];
      const both = await printed(`encounter=${encounter}&print=chart&paper=a4`);
      for (const pages of Object.values(both)) {
        // How sure a figure is stands above it, and is a word between two figures here.
        const text = withoutCertainty(pages.map((page) => page.text).join(" "));
        for (const [name, ...figures] of rows) {
          const shown = figures.flatMap((figure) => (figure === null ? [] : [written(figure as number)]));
          expect(text).toContain([name, ...shown].join(" "));
        }
      }
    },
  );

  it("is the same on paper and in the PDF, word for word", async () => {
    // Where pages end depends on the typefaces of the machine, and with it how often their heads are there.
    const words = (pages: PdfPage[]) => [
      ...new Set(pages.flatMap(({ text }) => text.replace(/page \d+ of \d+/g, "").split(/[\s-]+/)).sort()),
    ];
    for (const kind of ["handover", "chart"]) {
      const both = await printed(`encounter=demo-e&shift=2026-03-03/night&print=${kind}&paper=letter`);
      expect(words(both.saved)).toEqual(words(both.printed));
    }
  });

  it("is in the language of whoever prints it", async () => {
    const { saved } = await printed("encounter=demo-c&print=handover", "es-ES");
    expect(saved[0]!.size).toEqual(SIZES.a4.handover);
    expect(saved[0]!.text).toContain("Entrega de turno");
    expect(saved[0]!.text).toContain("Este registro documenta.");
    expect(saved[0]!.text).toContain(`página 1 de ${saved.length}`);
  });

  it("stands when the service is away, with a word about it that is not printed", async () => {
    const { page } = await look(browser, unit, { at: "?encounter=demo-f&print=handover&paper=a4" });
    await page.route("**/v1/encounters/**", (route) => route.abort());
    const entry = {
      kind: "output-measured",
      at: "2026-03-04T18:40:00-06:00",
      category: "urine",
      volume: 111,
    };
    await unit.send("encounters/demo-f/entries", { entries: [entry] });
    await page.getByText("The figures below are as they were at 18:46.").waitFor();
    const pages = await pagesOf(await page.pdf({ preferCSSPageSize: true }));
    expect(pages[0]?.text).toContain("Demo Patient F");
    for (const { text } of pages) {
      expect(text).not.toContain("The figures below");
      expect(text).not.toContain("Save as PDF");
    }
    await page.context().close();
  });

  it("is what the devices should show, with what nobody has written down", async () => {
    const { totals } = await latestOf("demo-a");
    const { saved } = await printed("encounter=demo-a&print=handover&paper=a4");
    const text = saved.map((page) => page.text).join(" ");
    for (const { channel, totals: counters } of totals.channels) {
      for (const { expected, lastReading, atRisk } of counters.filter((one) => one.expected > 0)) {
        const tenth = (value: number) => `${written(Math.round(value * 10) / 10)} mL`;
        const risk = atRisk > 0 ? tenth(atRisk) : "written down";
        expect(text).toContain(
          `${channel} Primary total ${tenth(expected)} ${tenth(lastReading ?? 0)} ${risk}`,
        );
      }
    }
  });
});

const withoutCertainty = (text: string) => text.replace(/\b(at least|at most|about) (?=[\d\u2212])/g, "");

describe("a stay", () => {
  const at = (clock: string) => `2026-03-04T${clock}:00-06:00`;

  /** Admits a patient at 07:00, with so many lines, each running through its own pump. */
  async function admit(
    id: string,
    patient: { identifier: string; name: string },
    lines: number,
  ): Promise<void> {
    const stay = { id, unit: "demo-unit", bed: "9", patient, admittedAt: at("07:00") };
    await unit.send("encounters", stay, "charge-nurse");
    const entries = Array.from({ length: lines }, (_, index) => {
      const [line, channel] = [`line-${index}`, `pump-${index}`];
      const fluid = { name: `Fluid number ${index}`, category: "iv-fluid" };
      const bag = { bag: `bag-${index}`, volume: 1000, fluid };
      return [
        { kind: "line-placed", line, label: `Line number ${index}`, route: "intravenous" },
        { kind: "channel-connected", channel, line, type: "pump", totals: "separate", rateStep: 0.1 },
        { kind: "bag-hung", channel, role: "primary", ...bag },
        { kind: "flow-started", channel, rate: 10 + index },
        { kind: "rate-changed", channel, role: "primary", rate: 20 + index, at: at("12:30") },
        { kind: "rate-changed", channel, role: "primary", rate: 30 + index, at: at("16:00") },
      ].map((entry) => ({ at: at("07:00"), ...entry }));
    });
    await unit.send(`encounters/${id}/entries`, { entries: entries.flat() });
  }

  it("of one line is a page or two, of twelve loses no row, and repeats the head of a table it breaks", async () => {
    await admit("lone", { identifier: "LONE-1", name: "Lone Line" }, 1);
    await admit("crowded", { identifier: "CROWD-12", name: "Crowded Stay" }, 12);
    for (const kind of ["handover", "chart"]) {
      const lone = await printed(`encounter=lone&print=${kind}&paper=letter`);
      for (const pages of Object.values(lone)) expect(pages.length).toBeLessThanOrEqual(2);
      const crowded = await printed(`encounter=crowded&print=${kind}&paper=letter`);
      for (const pages of Object.values(crowded)) {
        const text = pages.map((page) => page.text).join(" ");
        for (let index = 0; index < 12; index += 1) {
          if (kind === "chart") {
            const flows = [
              `07:00–12:30 Fluid number ${index}, primary ${10 + index} mL/h`,
              `12:30–16:00 Fluid number ${index}, primary ${20 + index} mL/h`,
              `16:00–18:46 Fluid number ${index}, primary ${30 + index} mL/h`,
            ];
            for (const flow of flows) expect(text).toContain(flow);
            const [before, halves] = [10 + index, 15 + index];
            const after = [20 + index, 20 + index, 20 + index, 30 + index, 30 + index];
            const hours = [...Array(5).fill(before), halves, ...after];
            expect(text).toContain(`Line number ${index} ${hours.join(" ")} `);
          } else {
            expect(text).toContain(`Line number ${index} pump-${index} ${30 + index} mL/h`);
            expect(text).toContain(`pump-${index} Primary total`);
          }
        }
        for (const { text: page } of pages) {
          expect(page).toContain("CROWD-12");
          // No heading stands alone above the caution, which begins with the banner over invented data.
          for (const name of [
            "What ran",
            "Open",
            "Charted late",
            "Not known and not measured",
            "Signature",
          ]) {
            expect(page).not.toContain(`${name} Demo data, invented`);
          }
        }
        const head = kind === "chart" ? "Line Channel When Fluid Rate Volume" : "Channel Total Should show";
        const broken = pages.filter(({ text: page }) => page.includes(head));
        expect(broken.length).toBeGreaterThan(kind === "chart" ? 1 : 0);
      }
    }
  });

  it.each([
    ["accents", "Zoë Šťastný-Núñez"],
    ["greek", "Ελένη Παπαδοπούλου"],
    ["cyrillic", "Наталья Щербакова"],
  ])("with a name in %s has it on paper and in the PDF", async (id, name) => {
    await admit(id, { identifier: `N-${id}`, name }, 1);
    const both = await printed(`encounter=${id}&print=handover&paper=a4`);
    for (const [{ text } = { text: "" }] of Object.values(both)) {
      expect(text).toContain(name);
      expect(text).not.toContain("Go by the identifier");
    }
  });

  it("with names as long as they may be has all of them, and the shift, on every page", async () => {
    const [name, identifier] = ["W".repeat(200), "I".repeat(100)];
    await admit("long", { identifier, name }, 1);
    const long = { line: "long", label: "Ж".repeat(200), route: "intravenous" };
    await unit.send("encounters/long/entries", {
      entries: [{ kind: "line-placed", at: at("08:00"), ...long }],
    });
    for (const kind of ["handover", "chart"]) {
      const both = await printed(`encounter=long&print=${kind}&paper=letter`);
      for (const { text } of Object.values(both).flat()) {
        expect(text.replaceAll(" ", "")).toContain(name);
        expect(text.replaceAll(" ", "")).toContain(identifier);
        expect(text).toContain("Day 07:00 to 19:00, UTC−06:00, computed up to 18:46");
      }
    }
  });

  it("with a name that the PDF's typeface lacks says so beside the identifier, on every page", async () => {
    await admit("lacking", { identifier: "N-WANG", name: "王小明 <b>Wang</b>" }, 1);
    const { saved } = await printed("encounter=lacking&print=chart&paper=a4");
    for (const { text } of saved) {
      expect(text).toContain("□□□ <b>Wang</b> Identifier N-WANG");
      expect(text).toContain(
        "3 characters of the name cannot be shown here (U+738B U+5C0F U+660E). Go by the identifier.",
      );
    }
  });
});
