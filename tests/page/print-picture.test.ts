/** The picture on paper: areas that are volumes, textures that say what is written down, brackets over what nobody knows. */

import { expect, it } from "vitest";
import { pictureOf } from "../../src/page/print/picture.js";
import { lined } from "../../src/page/print/shapes.js";
import type { Shape } from "../../src/page/print/sheet.js";
import { aShift, at, sourceOf } from "./a-shift.js";

type Area = Extract<Shape, { kind: "area" }>;

/** The shift with one flow of 50 mL/h over all of it, changed as told. */
function picture(shift = aShift(), basis: "computed" | "measured" | "apportioned" | "disputed" = "computed") {
  const source = sourceOf(shift);
  const fluid = { name: "Sodium chloride 0.9 %", category: "iv-fluid" } as const;
  const what = {
    channel: "pump-1",
    line: "forearm",
    bag: "saline-1",
    fluid,
    role: "primary",
    basis,
  } as const;
  const flow = { ...what, start: at("07:00"), end: at("19:00"), rate: 50, volume: 600, delivered: 600 };
  const [row] = shift.volumes.rows;
  const channels = {
    ...source.sheet.channels,
    rows: [{ ...row!, key: "pump-1", basis: Array(12).fill(basis) }],
  };
  const gap = { channel: "pump-1", line: "forearm", bag: null, role: "primary", reason: "unread" } as const;
  const unknown = [{ ...gap, start: at("09:00"), end: at("09:20") }];
  const flows = { ...source.sheet.flows, flows: [flow], unknown };
  const [drawing] = pictureOf({ ...source, sheet: { ...source.sheet, channels, flows } });
  if (drawing?.kind !== "drawing") throw new Error("nothing is drawn");
  return drawing;
}

const areas = (shapes: readonly Shape[]) => shapes.filter((shape): shape is Area => shape.kind === "area");
const size = ({ width, height }: Area) => width * height;

it("has areas in proportion to their volumes, whatever they are of", () => {
  const [band, urine, square] = areas(picture().shapes);
  // 600 mL of the band, 300 mL of urine, which leaves a point free on either side of its hour.
  const perVolume = size(band!) / 600;
  expect(((urine!.width + 2) * urine!.height) / 300).toBeCloseTo(perVolume);
  const legend = picture().shapes.flatMap((shape) => (shape.kind === "text" ? [shape.text] : []));
  const [, said] = /this square is (\d+)\u00a0mL; filled: read at both ends/.exec(legend.join(" ")) ?? [];
  expect(size(square!) / perVolume).toBeCloseTo(Number(said));
});

it("fills what was read at both ends, and draws lines where it was shared out or disagrees", () => {
  const filled = (basis: Parameters<typeof picture>[1]) => {
    const shift = aShift();
    const totals = { ...shift.totals, channels: [] };
    const { shapes } = picture({ ...shift, totals }, basis);
    const inked = areas(shapes).filter((shape) => shape.filled).length;
    return [inked - 1, shapes.filter((shape) => shape.kind === "line" && shape.thick === 0.4).length];
  };
  expect(filled("computed")).toEqual([0, 0]);
  expect(filled("measured")).toEqual([12, 0]);
  const [none, along] = filled("apportioned");
  const [, both] = filled("disputed");
  expect(none).toBe(0);
  expect(along).toBeGreaterThanOrEqual(12);
  expect(both).toBeGreaterThan(along!);
});

it("brackets the minutes that nobody knows", () => {
  const { shapes } = picture();
  const said = shapes.find((shape) => shape.kind === "text" && shape.text === "20 min not known");
  const hours = shapes.filter((shape) => shape.kind === "line" && shape.faint);
  const [nine, ten] = [2, 3].map((index) => (hours[index] as Extract<Shape, { kind: "line" }>).points[0]![0]);
  expect(said).toMatchObject({ middle: true });
  expect((said as Extract<Shape, { kind: "text" }>).x).toBeCloseTo(nine! + (ten! - nine!) / 6);
});

it("stays within its own width and height", () => {
  const { width, height, shapes } = picture();
  for (const { x, y, ...shape } of areas(shapes)) {
    expect(Math.min(x, y)).toBeGreaterThanOrEqual(0);
    expect(x + shape.width).toBeLessThanOrEqual(width);
    expect(y + shape.height).toBeLessThanOrEqual(height);
  }
});

it("is not there where nothing ran and nothing was measured", () => {
  const shift = aShift();
  const output = { ...shift.balance.output, rows: [] };
  const intake = { ...shift.balance.intake, rows: [] };
  expect(pictureOf(sourceOf({ ...shift, balance: { ...shift.balance, intake, output } }))).toEqual([]);
});

it("has at least one line in an area too thin for more", () => {
  expect(lined(0, 0, 10, 0.5, false)).toHaveLength(1);
  expect(lined(0, 0, 4.4, 4.4, true)).toHaveLength(4);
});
