/**
 * Draws one lane: the bands of a line over the real hours of the shift. Thickness is rate, so area is
 * volume; ink is what is written down, so a computed band is an outline and a measured one is filled.
 */

import type { Band } from "./bands.js";
import { drawn } from "./elements.js";
import { bracketRoom, drawGap, placeGaps } from "./gaps.js";
import { bandLabels, type Placing } from "./labels.js";
import { basisAt, type DrawnFlow, isAdded, type Lane } from "./lanes.js";
import type { Axis } from "./scale.js";
import { flowSentence, gapSentence } from "./sentences.js";
import { moment } from "./wall.js";
import { words } from "./words.js";

const HEADROOM = 18;

interface Drawing extends Placing {
  /** Called with a sentence when a band or a gap is pointed at. */
  readonly say: (sentence: string) => void;
}

/** The picture of a lane, as wide as the hours of the axis. */
export function drawLane(lane: Lane, drawing: Drawing): SVGSVGElement {
  const { axis, perRate } = drawing;
  const height = Math.ceil(
    Math.max(nameHeight(lane, axis), bracketRoom(lane) + HEADROOM + lane.crest * perRate + 1),
  );
  const y = (rate: number) => height - 1 - rate * perRate;
  const gaps = placeGaps(lane, axis, y);
  const label = words.hours.picture(lane.label ?? words.hours.noLine);
  return drawn(
    "svg",
    { class: "lane-picture", role: "img", "aria-label": label, width: axis.plot, height },
    ...grid(drawing, height),
    ...lane.bands.map((band) => drawBand(band, drawing, y)),
    ...bandLabels(
      lane,
      drawing,
      y,
      gaps.map((gap) => gap.box),
    ),
    ...gaps.map((gap) =>
      speaking(
        drawGap(gap, axis, height),
        `${gap.gap.channel}, ${gapSentence(gap.gap, drawing.channels.intervals)}`,
        drawing,
      ),
    ),
    drawn("path", { class: "ground", d: `M0 ${height - 0.5}H${axis.plot}` }),
    nowLine(drawing, height),
  );
}

/** The least height at which the line's name and its channels stand beside the picture. */
function nameHeight(lane: Lane, axis: Axis): number {
  const rows = Math.ceil(((lane.label ?? "").length * 9.5) / axis.left);
  return 20 * rows + 18 * lane.channels.length + 10;
}

/** Says the sentence when the drawing is pointed at or tapped. */
function speaking(made: SVGElement, sentence: string, { say }: Drawing): SVGElement {
  for (const event of ["pointerenter", "click"]) made.addEventListener(event, () => say(sentence));
  return made;
}

function grid({ axis, channels }: Drawing, height: number): SVGElement[] {
  return channels.intervals
    .map((interval) => Math.round(axis.x(moment(interval.start))) + 0.5)
    .map((x) => drawn("path", { class: "grid", d: `M${x} 0V${height}` }));
}

function nowLine({ axis, channels }: Drawing, height: number): SVGElement | null {
  const now = moment(channels.until);
  if (now >= moment(channels.to)) return null;
  return drawn("path", { class: "now-line", d: `M${axis.x(now).toFixed(1)} 0V${height}` });
}

function drawBand(band: Band<DrawnFlow>, drawing: Drawing, y: (rate: number) => number): SVGElement {
  const { source } = band.flow;
  const hue = isAdded(source.role) ? "added" : "primary";
  const group = drawn(
    "g",
    { class: `band ${hue}` },
    drawn("path", { class: "body", d: outline(band, drawing.axis, y) }),
    ...inked(band, drawing, y),
    drawn("path", { class: "edge", d: outline(band, drawing.axis, y) }),
  );
  return speaking(group, `${source.channel}, ${flowSentence(source, drawing.channels.intervals)}`, drawing);
}

/** One closed path: along the top to the right, back along what lies beneath. */
function outline({ steps }: Band<DrawnFlow>, axis: Axis, y: (rate: number) => number): string {
  const at = (ms: number) => axis.x(ms).toFixed(1);
  const top = steps.map((step) => `V${y(step.floor + step.rate).toFixed(1)}H${at(step.end)}`);
  const back = [...steps].reverse().map((step) => `V${y(step.floor).toFixed(1)}H${at(step.start)}`);
  return `M${at(steps[0]!.start)} ${y(steps[0]!.floor).toFixed(1)}${top.join("")}${back.join("")}Z`;
}

/** The hours of a band that rest on readings, drawn over its body in the texture of their basis. */
function inked(
  band: Band<DrawnFlow>,
  { axis, channels }: Drawing,
  y: (rate: number) => number,
): SVGElement[] {
  return channels.intervals.flatMap((interval) => {
    const [from, to] = [moment(interval.start), moment(interval.end)];
    const basis = basisAt(channels, band.flow.channel, from);
    if (basis === "computed" || basis === "unknown") return [];
    return band.steps
      .filter((step) => step.start < to && from < step.end)
      .map((step) => {
        const [x1, x2] = [axis.x(Math.max(step.start, from)), axis.x(Math.min(step.end, to))];
        const top = y(step.floor + step.rate);
        const size = { x: x1, y: top, width: x2 - x1, height: y(step.floor) - top };
        return drawn("rect", { class: `ink ${basis}`, ...size });
      });
  });
}
