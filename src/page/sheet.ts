/**
 * The sheet of a shift: lanes above, table below, both on one axis, then the same in words. It is laid
 * out for the width it is given and drawn anew when that changes.
 */

import type { Flows, Interval, Volumes } from "./answers.js";
import { drawn, element } from "./elements.js";
import { type Lane, lanesOf } from "./lanes.js";
import { legend } from "./legend.js";
import { drawLane } from "./picture.js";
import { type Axis, axisOf, scaleSquare, thickness } from "./scale.js";
import { flowSentence, gapSentence } from "./sentences.js";
import { hoursTable } from "./table.js";
import { clockAmong, moment } from "./wall.js";
import { words } from "./words.js";

export interface ShiftAnswers {
  readonly lines: Volumes;
  readonly channels: Volumes;
  readonly flows: Flows;
}

/** The section with the picture and the table, for a page `width` pixels wide. */
export function sheet(answers: ShiftAnswers, width: number): HTMLElement {
  const lanes = lanesOf(answers.flows, answers.lines);
  const heading = element("h2", { id: "hours-heading" }, words.hours.heading);
  if (lanes.length === 0 && answers.lines.rows.length === 0) {
    const nothing = element("p", { class: "empty" }, words.hours.nothing);
    return element("section", { "aria-labelledby": "hours-heading" }, heading, nothing);
  }
  const intervals = answers.lines.intervals.map(({ start, end }) => ({
    start: moment(start),
    end: moment(end),
  }));
  const axis = axisOf(intervals, width);
  const perRate = thickness(lanes.map((lane) => lane.crest));
  const says = element("p", { class: "says", "aria-hidden": "true" }, words.hours.hint);
  const say = (sentence: string) => {
    says.textContent = sentence;
  };
  const drawing = { axis, perRate, channels: answers.channels, say };
  const wider = axis.left + axis.plot + axis.right > width + 1;
  return element(
    "section",
    { "aria-labelledby": "hours-heading" },
    heading,
    legend(lanes, answers.channels, scaleSquare(axis.perHour, perRate)),
    says,
    element(
      "div",
      {
        class: "sheet",
        ...(wider ? { tabindex: 0, role: "region", "aria-labelledby": "hours-heading" } : {}),
      },
      nowStrip(answers.lines, axis),
      ...lanes.map((lane) => laneRow(lane, axis, drawLane(lane, drawing))),
      hoursTable(answers.lines, axis),
    ),
    inWords(lanes, answers.lines.intervals),
  );
}

function laneRow(lane: Lane, axis: Axis, picture: SVGElement): HTMLElement {
  const topFirst = [...lane.channels].reverse();
  const name = element(
    "div",
    { class: "lane-name" },
    element("strong", {}, lane.label ?? words.hours.noLine),
    ...topFirst.map((channel) => element("span", { class: "soft" }, channel)),
  );
  name.style.width = `${axis.left}px`;
  const row = element("div", { class: "lane" }, name, picture);
  row.style.width = `${axis.left + axis.plot + axis.right}px`;
  return row;
}

/** Where the present stands on the axis, while the shift runs. */
function nowStrip(volumes: Volumes, axis: Axis): SVGElement | null {
  const now = moment(volumes.until);
  if (now >= moment(volumes.to)) return null;
  const x = axis.left + axis.x(now);
  const late = axis.x(now) > axis.plot - 80;
  return drawn(
    "svg",
    { class: "now-strip", width: axis.left + axis.plot + axis.right, height: 20, "aria-hidden": "true" },
    drawn("path", { class: "now-line", d: `M${x} 6V20` }),
    drawn(
      "text",
      { x: late ? x - 6 : x + 6, y: 14, "text-anchor": late ? "end" : "start" },
      words.hours.now(clockAmong(volumes.until, volumes.intervals)),
    ),
  );
}

function inWords(lanes: readonly Lane[], hours: readonly Interval[]): HTMLElement | null {
  if (lanes.length === 0) return null;
  const parts = lanes.flatMap((lane) =>
    lane.channels.flatMap((channel) => {
      const flows = lane.bands.filter((band) => band.flow.channel === channel).map((band) => band.flow);
      const gaps = lane.gaps.filter((gap) => gap.channel === channel);
      const items = [
        ...flows.map((flow) => ({ start: flow.start, text: flowSentence(flow.source, hours) })),
        ...gaps.map((gap) => ({ start: gap.start, text: gapSentence(gap, hours) })),
      ].sort((a, b) => a.start - b.start);
      return [
        element("h3", {}, channel, " ", element("span", { class: "soft" }, lane.label ?? words.hours.noLine)),
        element("ul", { class: "sentences" }, ...items.map((item) => element("li", {}, item.text))),
      ];
    }),
  );
  return element("details", { class: "in-words" }, element("summary", {}, words.hours.inWords), ...parts);
}
