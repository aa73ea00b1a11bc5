/**
 * Rates written on the bands: inside where a band is thick and long enough, else above it or beside it
 * where nothing is drawn, else not at all; what finds no room is in the words below the table.
 */

import type { Volumes } from "./answers.js";
import type { Band } from "./bands.js";
import { drawn } from "./elements.js";
import { basisAt, type DrawnFlow, isAdded, type Lane } from "./lanes.js";
import { figure } from "./numbers.js";
import type { Axis } from "./scale.js";

/** What places things on a lane. */
export interface Placing {
  readonly axis: Axis;
  /** Pixels per mL/h, the same for every lane. */
  readonly perRate: number;
  /** The same shift per channel, for how each hour is founded. */
  readonly channels: Volumes;
}

/** Pixels from the top left corner of a lane. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
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
): SVGElement[] {
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
    const rate = figure(flow.rate);
    const wanted =
      lane.channels.length > 1 && !named.has(flow.channel) ? [`${flow.channel} ${rate}`, rate] : [rate];
    const label = wanted.flatMap((text) => {
      const inside = roomInside(band, text, placing, y);
      const box = inside ?? roomAround(band, text, placing, y).find(isFree);
      return box === undefined ? [] : [{ text, box, inside: inside !== null }];
    })[0];
    if (label === undefined) return [];
    written.push(label.box);
    named.add(flow.channel);
    const onInk = label.inside && basisAt(placing.channels, flow.channel, flow.start) === "measured";
    return drawn(
      "text",
      { class: onInk ? "on-ink" : null, x: label.box.x, y: label.box.y + 11.5 },
      label.text,
    );
  });
}

/** At the beginning of a band's first step, if it fits; never on the stripes of what is added. */
function roomInside(
  { flow, steps }: Band<DrawnFlow>,
  text: string,
  placing: Placing,
  y: (rate: number) => number,
) {
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
) {
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

function overlap(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}
