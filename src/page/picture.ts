/**
 * Draws one lane: the bands of a line over the real hours of the shift. Thickness is rate, so area is
 * volume; ink is what is written down, so a computed band is an outline and a measured one is filled.
 */

import { fluidName, type Volumes } from "./answers.js";
import { type Band, levels } from "./bands.js";
import { drawn } from "./elements.js";
import { bandLabels } from "./labels.js";
import { basisAt, type DrawnFlow, type Gap, type Lane } from "./lanes.js";
import { duration, figure } from "./numbers.js";
import type { Axis } from "./scale.js";
import { clock, moment } from "./wall.js";
import { words } from "./words.js";

const BRACKET = 24;
const HEADROOM = 18;

export interface Drawing {
  readonly axis: Axis;
  /** Pixels per mL/h, the same for every lane. */
  readonly perRate: number;
  /** The same shift per channel, for how each hour is founded. */
  readonly channels: Volumes;
  /** Called with a sentence when a band or a gap is pointed at. */
  readonly say: (sentence: string) => void;
}

/** The picture of a lane, as wide as the hours of the axis. */
export function drawLane(lane: Lane, drawing: Drawing): SVGSVGElement {
  const { axis, perRate } = drawing;
  const bracketLevels = levels(lane.gaps);
  const brackets = lane.gaps.length === 0 ? 0 : (Math.max(...bracketLevels) + 1) * BRACKET;
  const names = 44 + (lane.channels.length > 1 ? 18 * lane.channels.length : 0);
  const height = Math.ceil(Math.max(names, brackets + HEADROOM + lane.crest * perRate + 1));
  const y = (rate: number) => height - 1 - rate * perRate;

  const total = lane.total === null ? null : figure(lane.total);
  const label = words.hours.picture(lane.label ?? words.hours.noLine, total);
  return drawn(
    "svg",
    { class: "lane-picture", role: "img", "aria-label": label, width: axis.plot, height },
    ...grid(drawing, height),
    ...lane.bands.map((band) => drawBand(band, drawing, y)),
    ...bandLabels(lane, drawing, y),
    ...lane.gaps.map((gap, index) => drawGap(gap, bracketLevels[index]! * BRACKET, height, drawing)),
    drawn("path", { class: "ground", d: `M0 ${height - 0.5}H${axis.plot}` }),
    nowLine(drawing, height),
  );
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
  const hue = source.role === "secondary" || source.role === "bolus" ? "added" : "primary";
  const group = drawn(
    "g",
    { class: `band ${hue}` },
    drawn("path", { class: "body", d: outline(band, drawing.axis, y) }),
    ...inked(band, drawing, y),
    drawn("path", { class: "edge", d: outline(band, drawing.axis, y) }),
  );
  const sentence = `${source.channel}, ${flowSentence(source)}`;
  for (const event of ["pointerenter", "click"]) group.addEventListener(event, () => drawing.say(sentence));
  return group;
}

/** One closed path: along the top to the right, back along what lies beneath. */
function outline({ steps }: Band<DrawnFlow>, axis: Axis, y: (rate: number) => number): string {
  const at = (ms: number) => axis.x(ms).toFixed(1);
  const top = steps.map((step) => `V${y(step.floor + step.rate).toFixed(1)}H${at(step.end)}`);
  const back = [...steps].reverse().map((step) => `V${y(step.floor).toFixed(1)}H${at(step.start)}`);
  return `M${at(steps[0]!.start)} ${y(steps[0]!.floor).toFixed(1)}${top.join("")}${back.join("")}Z`;
}

/** The hours of a band that rest on readings, drawn over its body in the texture of their basis. */
function inked(band: Band<DrawnFlow>, { axis, channels }: Drawing, y: (rate: number) => number): SVGElement[] {
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

function drawGap(gap: Gap, top: number, height: number, { axis, say }: Drawing): SVGElement {
  const [x1, x2] = [axis.x(gap.start), axis.x(gap.end)];
  const y = top + 17.5;
  const text = words.hours.unknown(duration(gap.end - gap.start));
  const half = text.length * 3.3;
  const middle = Math.min(Math.max((x1 + x2) / 2, half), axis.plot - half);
  const group = drawn(
    "g",
    { class: "gap" },
    drawn("rect", { class: "gap-room", x: x1, y, width: x2 - x1, height: height - y }),
    drawn("path", { class: "bracket", d: `M${x1 + 1} ${y + 6}V${y}H${x2 - 1}V${y + 6}` }),
    drawn("text", { x: middle, y: top + 12, "text-anchor": "middle" }, text),
  );
  const sentence = `${gap.channel}, ${gapSentence(gap)}`;
  for (const event of ["pointerenter", "click"]) group.addEventListener(event, () => say(sentence));
  return group;
}

/** "07:10 to 09:30: primary, Sodium chloride 0.9 %, 75 mL/h, 175 mL". */
export function flowSentence(flow: DrawnFlow["source"]): string {
  const fluid = fluidName(flow.fluid) ?? words.now.unidentified;
  return words.flow.sentence(clock(flow.start), clock(flow.end), flow.role, fluid, flow.rate, flow.volume);
}

export function gapSentence(gap: Gap): string {
  const lasted = duration(gap.end - gap.start);
  return words.flow.unknown(clock(gap.source.start), clock(gap.source.end), lasted, gap.source.reason);
}
