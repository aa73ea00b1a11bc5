/**
 * Rates written on the bands: inside where a band is thick and long enough, else just above it, else
 * not at all. No two labels of a lane ever touch; what finds no room is in the words below the table.
 */

import { drawn } from "./elements.js";
import { basisAt, type DrawnFlow, type Lane } from "./lanes.js";
import { figure } from "./numbers.js";
import type { Drawing } from "./picture.js";

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const DIGIT = 7.6;
const LETTER = 16;
const MARGIN = 5;

/** The labels of a lane, from left to right; `y` is the lane's scale of rates. */
export function bandLabels(lane: Lane, drawing: Drawing, y: (rate: number) => number): SVGElement[] {
  const { axis } = drawing;
  const placed: Box[] = [];
  const named = new Set<string>();
  const bands = [...lane.bands].sort((a, b) => a.flow.start - b.flow.start);
  return bands.flatMap(({ flow, steps }) => {
    const [x1, x2] = [axis.x(flow.start), axis.x(flow.end)];
    const text = labelText(flow, lane.channels.length > 1 && !named.has(flow.channel));
    const width = text.length * DIGIT;
    const top = y(steps[0]!.floor + flow.rate);
    const thick = flow.rate * drawing.perRate;
    const inside = { x: x1 + MARGIN, y: top + Math.min(4, (thick - LETTER) / 2), width, height: LETTER };
    const above = { x: Math.max(0, Math.min(x1 + 1, axis.plot - width)), y: top - LETTER - 1, width, height: LETTER };
    const fits = thick >= LETTER && width + 2 * MARGIN <= x2 - x1;
    const topmost = lane.bands.every((other) => other.flow === flow || !covers(other.flow, flow, lane));
    const box = fits ? inside : topmost && above.y >= 0 ? above : null;
    if (box === null || placed.some((other) => touch(other, box))) return [];
    placed.push(box);
    named.add(flow.channel);
    const solid = fits && basisAt(drawing.channels, flow.channel, flow.start) === "measured";
    return drawn("text", { class: solid ? "rate on-ink" : "rate", x: box.x, y: box.y + 12.5 }, text);
  });
}

function labelText(flow: DrawnFlow, withName: boolean): string {
  return withName ? `${flow.channel} ${figure(flow.rate)}` : figure(flow.rate);
}

/** Whether `other` lies on top of `flow` at the moment `flow` begins. */
function covers(other: DrawnFlow, flow: DrawnFlow, lane: Lane): boolean {
  const higher = lane.channels.indexOf(other.channel) > lane.channels.indexOf(flow.channel);
  return higher && other.start <= flow.start && flow.start < other.end;
}

function touch(a: Box, b: Box): boolean {
  return a.x < b.x + b.width + 3 && b.x < a.x + a.width + 3 && a.y < b.y + b.height && b.y < a.y + a.height;
}
