/**
 * Rates written on the bands: inside where a band is thick and long enough, else above it or beside it
 * where nothing is drawn, else not at all; what finds no room is in the words below. Pure; in pixels.
 */

import { type Band, overlap } from "./bands.js";
import { type DrawnFlow, isAdded, type Lane } from "./lanes.js";
import type { Axis } from "./scale.js";

/** What places things on a lane. */
export interface Placing {
  readonly axis: Axis;
  /** Pixels per mL/h, the same for every lane. */
  readonly perRate: number;
  /** How a rate is written. */
  readonly write: (rate: number) => string;
}

/** Pixels from the top left corner of a lane. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

interface Label {
  readonly band: Band<DrawnFlow>;
  readonly text: string;
  readonly box: Box;
  /** Whether it stands on the band itself. */
  readonly inside: boolean;
}

const DIGIT = 8.3;
const LETTER = 14;
const MARGIN = 4;

/**
 * The labels of a lane, from left to right; `y` is the lane's scale of rates, `taken` what is already
 * written there.
 */
export function bandLabels(
  lane: Lane,
  placing: Placing,
  y: (rate: number) => number,
  taken: readonly Box[],
): Label[] {
  const written = [...taken];
  const drawnOver = lane.bands.flatMap((band) => stepBoxes(band, placing.axis, y));
  const named = new Set<string>();
  const isFree = (box: Box) =>
    box.y >= 0 &&
    box.x + box.width <= placing.axis.plot &&
    ![...written, ...drawnOver].some((other) => overlap(other, box));

  const inOrder = [...lane.bands].sort((a, b) => a.flow.start - b.flow.start);
  return inOrder.flatMap((band) => {
    const { flow } = band;
    const rate = placing.write(flow.rate);
    const wanted =
      lane.channels.length > 1 && !named.has(flow.channel) ? [`${flow.channel} ${rate}`, rate] : [rate];
    const label = wanted.flatMap((text) => {
      const inside = roomInside(band, text, placing, y);
      const box = inside ?? roomAround(band, text, placing, y).find(isFree);
      return box === undefined ? [] : [{ band, text, box, inside: inside !== null }];
    })[0];
    if (label === undefined) return [];
    written.push(label.box);
    named.add(flow.channel);
    return [label];
  });
}

/** At the beginning of a band's first step, if it fits; never on the stripes of what is added. */
function roomInside(
  { flow, steps }: Band<DrawnFlow>,
  text: string,
  placing: Placing,
  y: (rate: number) => number,
): Box | null {
  const [step, width, thick] = [steps[0]!, text.length * DIGIT, flow.rate * placing.perRate];
  const x = placing.axis.x(step.start) + MARGIN;
  const long = placing.axis.x(step.end) - x - MARGIN;
  if (isAdded(flow.source.role) || thick < LETTER || long < width) return null;
  const top = y(step.floor + flow.rate);
  return { x, y: top + Math.min(3, (thick - LETTER) / 2), width, height: LETTER };
}

/** Above the beginning of a band; beside it only where it stands up like a post. */
function roomAround(
  { flow, steps }: Band<DrawnFlow>,
  text: string,
  placing: Placing,
  y: (rate: number) => number,
): Box[] {
  const { axis } = placing;
  const size = { width: text.length * DIGIT, height: LETTER };
  const top = y(steps[0]!.floor + flow.rate);
  const above = { x: axis.x(flow.start) + 1, y: top - LETTER - 2, ...size };
  if (flow.rate * placing.perRate < LETTER) return [above];
  const after = { x: axis.x(flow.end) + MARGIN, y: top, ...size };
  return [above, after, { ...after, x: axis.x(flow.start) - MARGIN - size.width }];
}

function stepBoxes({ steps }: Band<DrawnFlow>, axis: Axis, y: (rate: number) => number): Box[] {
  return steps.map(({ start, end, floor, rate }) => ({
    x: axis.x(start),
    y: y(floor + rate),
    width: axis.x(end) - axis.x(start),
    height: y(floor) - y(floor + rate),
  }));
}
