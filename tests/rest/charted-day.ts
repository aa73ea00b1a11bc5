/**
 * A day with something of every category, charted over REST, and the chart that is right: copied from the balance
 * by the hour, with its totals and sums added up from the cells, so that a slip can be planted before that.
 */

import type { Patient, Ward } from "../check-values/ward.js";

export const at = (clock: string, day = 4) => `2026-03-0${day}T${clock}:00Z`;

interface Row {
  readonly key: string;
  readonly volumes: readonly (number | null)[];
  readonly parts: readonly { readonly line: string | null; readonly volumes: readonly (number | null)[] }[];
}
export interface Balance {
  readonly intervals: readonly { readonly start: string; readonly end: string }[];
  readonly intake: { readonly rows: readonly Row[]; readonly sums: readonly (number | null)[] };
  readonly output: { readonly rows: readonly Row[]; readonly sums: readonly (number | null)[] };
  readonly net: readonly (number | null)[];
}
export interface Figure {
  readonly row: Readonly<Record<string, string>>;
  readonly start: string;
  readonly end: string;
  readonly volume: number | null;
}

const took = (clock: string, id: string, category: string, volume: number, more: object = {}) => ({
  id,
  kind: "intake-measured",
  at: at(clock),
  category,
  volume,
  ...more,
});
const passed = (clock: string, id: string, category: string, volume: number, more: object = {}) => ({
  id,
  kind: "output-measured",
  at: at(clock),
  category,
  volume,
  ...more,
});
const on = (channel: string) => (clock: string, kind: string, more: object) => ({
  kind,
  at: at(clock),
  channel,
  ...more,
});
const [pump, other] = [on("pump-1"), on("pump-2")];
const fluid = (name: string, category: string) => ({ name, category });

/** Two pumps, one of them with a secondary and read three times, the other at its keep-open rate; and all that is measured. */
export const ENTRIES = [
  { kind: "line-placed", at: at("07:00"), line: "forearm", route: "intravenous" },
  { kind: "line-placed", at: at("07:00"), line: "port", route: "intravenous" },
  pump("07:00", "channel-connected", { line: "forearm", type: "pump" }),
  pump("07:00", "bag-hung", { bag: "litre", volume: 1_000, fluid: fluid("Saline", "iv-fluid") }),
  pump("07:00", "flow-started", { id: "litre-started", rate: 75 }),
  pump("09:00", "bag-hung", {
    bag: "antibiotic",
    role: "secondary",
    volume: 250,
    fluid: fluid("Antibiotic", "iv-medication"),
  }),
  pump("09:00", "secondary-started", {
    id: "antibiotic-started",
    rate: 210,
    volumeToInfuse: 105,
    primaryClamped: true,
  }),
  pump("10:00", "total-read", { id: "read-10", total: "primary", volume: 187.5 }),
  pump("10:30", "total-read", { total: "primary", volume: 225 }),
  pump("11:00", "total-read", { id: "read-11", total: "primary", volume: 262.5 }),
  other("07:00", "channel-connected", { line: "port", type: "pump" }),
  other("07:00", "bag-hung", {
    bag: "nutrition",
    volume: 500,
    fluid: fluid("Nutrition", "parenteral-nutrition"),
  }),
  other("07:00", "flow-started", { id: "open", rate: 100, volumeToInfuse: 50, keepOpenRate: 25 }),
  took("09:10", "tea", "oral", 180, { item: "Tea" }),
  took("09:40", "soup", "oral", 230, { item: "Soup" }),
  took("10:20", "ice", "oral", 130, { item: "Ice" }),
  took("11:20", "coffee", "oral", 150, { item: "Coffee" }),
  took("09:35", "flush", "iv-flush", 20, { line: "forearm" }),
  took("08:10", "push", "iv-push", 12, { line: "port" }),
  took("08:40", "cells", "blood-product", 280),
  took("12:30", "feed", "enteral-feed", 120),
  took("12:40", "water", "enteral-water", 40),
  took("13:10", "other-in", "other-intake", 30),
  passed("08:30", "void", "urine", 310),
  passed("11:40", "void-later", "urine", 240),
  passed("10:30", "aspirate", "gastric", 170, { returned: 50 }),
  passed("12:10", "vomited", "emesis", 90),
  passed("12:20", "stool", "stool", 160),
  passed("12:50", "wound", "drain", 45, { site: "wound" }),
  passed("13:20", "bled", "blood-loss", 35),
  passed("13:30", "removed", "fluid-removal", 400),
  passed("13:40", "other-out", "other-output", 15),
  { kind: "chamber-placed", at: at("07:00"), chamber: "chest", category: "chest-drain", level: 0 },
  { id: "chest-8", kind: "chamber-read", at: at("08:00"), chamber: "chest", level: 275 },
  { id: "chest-10", kind: "chamber-read", at: at("10:00"), chamber: "chest", level: 310 },
];

let patients = 0;
export async function charted(here: Ward): Promise<Patient> {
  const patient = await here.admit(`charted-${++patients}`, at("06:00"), { value: 80, unit: "kg" });
  await patient.chart(...ENTRIES);
  return patient;
}

/** What the balance answers, as a chart: categories, lines and sums. */
export async function copied(patient: Patient, query: string): Promise<Figure[]> {
  const { intervals, intake, output, net } = await patient.ask<Balance>(`balance?${query}`);
  const figures = (row: Figure["row"], volumes: readonly (number | null)[]) =>
    intervals.map(({ start, end }, i) => ({ row, start, end, volume: volumes[i]! }));
  const parts = intake.rows.flatMap((row) => row.parts);
  const lines = [...new Set(parts.flatMap(({ line }) => line ?? []))].map((line) => {
    const own = parts.filter((part) => part.line === line);
    const volumes = intervals.map((_, i) => exact(own.reduce((sum, part) => sum + part.volumes[i]!, 0)));
    return figures({ line }, volumes);
  });
  return [
    ...[...intake.rows, ...output.rows].flatMap(({ key, volumes }) => figures({ category: key }, volumes)),
    ...lines.flat(),
    ...figures({ sum: "intake" }, intake.sums),
    ...figures({ sum: "output" }, output.sums),
    ...figures({ sum: "net" }, net),
  ];
}

const exact = (volume: number) => Math.round(volume * 1_000) / 1_000;

const HOURS = Array.from({ length: 7 }, (_, i) => 7 + i);
const clock = (hour: number) => at(`${String(hour).padStart(2, "0")}:00`);
const WHOLE = { start: clock(7), end: clock(14) };

/** A chart of categories by the hour, 07:00 to 14:00, with totals and sums of what is in it. */
export class Chart {
  private constructor(
    private readonly cells: Map<string, number>,
    private readonly sides: ReadonlyMap<string, "intake" | "output">,
    /** What the total of a category over all hours is off by. */
    private readonly off = new Map<string, number>(),
  ) {}

  static async of(patient: Patient): Promise<Chart> {
    const { intake, output } = await patient.ask<Balance>(`balance?from=${at("07:00")}&to=${at("14:00")}`);
    const cells = new Map<string, number>();
    const sides = new Map<string, "intake" | "output">();
    for (const [side, { rows }] of [["intake", intake] as const, ["output", output] as const]) {
      for (const { key, volumes } of rows) {
        sides.set(key, side);
        for (const [i, hour] of HOURS.entries()) cells.set(`${key} ${hour}`, volumes[i]!);
      }
    }
    return new Chart(cells, sides);
  }

  add(category: string, hour: number, volume: number): this {
    return this.set(category, hour, this.volume(category, hour) + volume);
  }

  set(category: string, hour: number, volume: number): this {
    this.cells.set(`${category} ${hour}`, exact(volume));
    return this;
  }

  misadd(category: string, by: number): this {
    this.off.set(category, by);
    return this;
  }

  private volume(category: string, hour: number): number {
    return this.cells.get(`${category} ${hour}`) ?? 0;
  }

  figures(): Figure[] {
    const rows = [...this.sides.keys()].flatMap((category): Figure[] => {
      const cells = HOURS.map((hour) => this.volume(category, hour));
      const total = cells.reduce((sum, volume) => sum + volume, this.off.get(category) ?? 0);
      return [
        ...HOURS.map((hour, i) => ({
          row: { category },
          start: clock(hour),
          end: clock(hour + 1),
          volume: cells[i]!,
        })),
        { row: { category }, ...WHOLE, volume: exact(total) },
      ];
    });
    const sum = (side: string) =>
      exact(
        rows
          .filter(({ row, end, start }) => this.sides.get(row.category!) === side && isWhole({ start, end }))
          .reduce((sum, { volume }) => sum + volume!, 0),
      );
    const [intake, output] = [sum("intake"), sum("output")];
    return [
      ...rows,
      { row: { sum: "intake" }, ...WHOLE, volume: intake },
      { row: { sum: "output" }, ...WHOLE, volume: output },
      { row: { sum: "net" }, ...WHOLE, volume: exact(intake - output) },
    ];
  }
}

const isWhole = ({ start, end }: Pick<Figure, "start" | "end">) => start === WHOLE.start && end === WHOLE.end;
