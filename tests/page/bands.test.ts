/** The geometry of bands: area is volume, whatever lies beneath. Times in hours of a shift from 07:00. */

import { describe, expect, it } from "vitest";
import { type Band, clip, crest, levels, type Span, stack } from "../../src/page/picture/bands.js";

const HOUR = 3_600_000;

/** "pump-1 75 from 7 to 9.5": clock hours on one day. */
function flow(channel: string, rate: number, from: number, to: number): Span {
  return { channel, rate, start: from * HOUR, end: to * HOUR };
}

function area({ steps }: Band<Span>): number {
  return steps.reduce((sum, step) => sum + (step.rate * (step.end - step.start)) / HOUR, 0);
}

function floors({ steps }: Band<Span>): number[][] {
  return steps.map((step) => [step.start / HOUR, step.end / HOUR, step.floor]);
}

describe("the bands of a line", () => {
  it("a channel alone lies on the ground and covers what it delivered", () => {
    const [band] = stack([flow("pump-1", 75, 7, 9.5)], ["pump-1"]);
    expect(floors(band!)).toEqual([[7, 9.5, 0]]);
    expect(area(band!)).toBe(187.5);
  });

  it("a channel on top steps up and down with the one beneath, and keeps its own area", () => {
    const beneath = [flow("pump-1", 75, 7, 9), flow("pump-1", 200, 9, 9.5), flow("pump-1", 75, 9.5, 19)];
    const bands = stack([...beneath, flow("pump-2", 40, 8, 10)], ["pump-1", "pump-2"]);
    expect(floors(bands[3]!)).toEqual([
      [8, 9, 75],
      [9, 9.5, 200],
      [9.5, 10, 75],
    ]);
    expect(area(bands[3]!)).toBe(80);
  });

  it("falls to the ground where nothing flows beneath", () => {
    const bands = stack([flow("pump-1", 75, 7, 8), flow("pump-2", 40, 7, 9)], ["pump-1", "pump-2"]);
    expect(floors(bands[1]!)).toEqual([
      [7, 8, 75],
      [8, 9, 0],
    ]);
  });

  it("does not step where the rate beneath merely goes on in a new bag", () => {
    const beneath = [flow("pump-1", 75, 7, 8), flow("pump-1", 75, 8, 9)];
    const bands = stack([...beneath, flow("pump-2", 40, 7, 9)], ["pump-1", "pump-2"]);
    expect(floors(bands[2]!)).toEqual([[7, 9, 75]]);
  });

  it("leaves out what lasted no time", () => {
    expect(stack([flow("pump-1", 75, 7, 7)], ["pump-1"])).toEqual([]);
  });

  it("is as thick as the rates that flow together at its thickest moment", () => {
    const flows = [flow("pump-1", 75, 7, 9), flow("pump-2", 40, 8, 10), flow("pump-3", 100, 9, 10)];
    expect(crest(stack(flows, ["pump-1", "pump-2", "pump-3"]))).toBe(140);
    expect(crest([])).toBe(0);
  });
});

describe("a span beside the shift", () => {
  it("is cut at the shift's ends, half-open", () => {
    expect(clip({ start: 5, end: 9 }, 7, 19)).toEqual({ start: 7, end: 9 });
    expect(clip({ start: 18, end: 21 }, 7, 19)).toEqual({ start: 18, end: 19 });
    expect(clip({ start: 5, end: 7 }, 7, 19)).toBeNull();
    expect(clip({ start: 19, end: 20 }, 7, 19)).toBeNull();
  });
});

describe("the brackets of unknown time", () => {
  it("share a level when they follow one another and part when they overlap", () => {
    const first = { start: 7, end: 9 };
    const overlapping = { start: 8, end: 10 };
    const after = { start: 9, end: 11 };
    expect(levels([first, overlapping, after])).toEqual([0, 1, 0]);
  });

  it("take the lowest free level in whichever order they are named", () => {
    expect(
      levels([
        { start: 9, end: 11 },
        { start: 7, end: 9 },
      ]),
    ).toEqual([0, 0]);
  });
});
