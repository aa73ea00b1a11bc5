/**
 * One lane: the bands of a line over the real hours of the shift. Thickness is rate, so area is volume; ink is
 * what is written down, so a computed band is an outline and a measured one is filled.
 */

import type { Volumes } from "../api/shapes.js";
import { useSpeech } from "../words/language.js";
import { moment } from "../words/wall.js";
import type { Band } from "./bands.js";
import { Bracket, bracketRoom, placeGaps } from "./gaps.js";
import { type Founding, inked } from "./ink.js";
import { bandLabels, type Placing } from "./labels.js";
import { type DrawnFlow, isAdded, type Lane } from "./lanes.js";
import { MARK_ROOM, Marks } from "./mark-row.js";
import type { Mark } from "./marks.js";
import type { Axis } from "./scale.js";
import { flowSentence, type Telling } from "./sentences.js";
import { type Say, speaking } from "./speaking.js";

const HEADROOM = 18;

/** What every strip of the picture is drawn with. */
export interface Drawing {
  readonly axis: Axis;
  /** Pixels per mL/h, the same for every strip that shows volume as area. */
  readonly perRate: number;
  /** Grid lines: the starts of the intervals. */
  readonly intervals: Volumes["intervals"];
  /** Null once the shift is over. */
  readonly now: number | null;
  readonly founding: Founding;
  readonly telling: Telling;
  readonly say: Say;
}

interface LaneProps {
  readonly lane: Lane;
  readonly marks: readonly Mark[];
  readonly drawing: Drawing;
}

/** The picture of a lane, as wide as the hours of the axis. */
export function LanePicture({ lane, marks, drawing }: LaneProps) {
  const { words, figure } = useSpeech();
  const { axis, perRate } = drawing;
  const height = Math.ceil(
    Math.max(nameHeight(lane, axis) - MARK_ROOM, bracketRoom(lane) + HEADROOM + lane.crest * perRate + 1),
  );
  const y = (rate: number) => height - 1 - rate * perRate;
  const gaps = placeGaps(lane, axis, y, words.picture.unknown);
  const placing: Placing = { axis, perRate, write: figure };
  const labels = bandLabels(
    lane,
    placing,
    y,
    gaps.map((gap) => gap.box),
  );
  return (
    <svg
      className="strip-picture"
      role="img"
      aria-label={words.picture.line(lane.label ?? words.lines.noLine)}
      width={axis.plot}
      height={height + MARK_ROOM}
    >
      <Grid drawing={drawing} height={height} />
      {lane.bands.map((band) => (
        <BandShape key={keyOf(band)} band={band} drawing={drawing} y={y} />
      ))}
      {labels.map(({ band, text, box, inside }) => {
        const onInk = inside && inked(band, drawing.founding)[0]?.basis === "measured";
        return (
          <text key={keyOf(band)} className={onInk ? "on-ink" : undefined} x={box.x} y={box.y + 11.5}>
            {text}
          </text>
        );
      })}
      {gaps.map((placed) => (
        <Bracket
          key={`${placed.gap.channel}${placed.gap.start}`}
          placed={placed}
          axis={axis}
          height={height}
          telling={drawing.telling}
          say={drawing.say}
        />
      ))}
      <path className="ground" d={`M0 ${height - 0.5}H${axis.plot}`} />
      <Marks marks={marks} top={height} drawing={drawing} />
    </svg>
  );
}

/** The hours, and where the present stands. */
export function Grid({ drawing: { axis, intervals, now }, height }: { drawing: Drawing; height: number }) {
  return (
    <>
      {intervals.map((interval) => {
        const x = Math.round(axis.x(moment(interval.start))) + 0.5;
        return <path key={interval.start} className="grid" d={`M${x} 0V${height}`} />;
      })}
      {now !== null && <path className="now-line" d={`M${axis.x(now).toFixed(1)} 0V${height}`} />}
    </>
  );
}

/** The least height at which the line's name and its channels stand beside the picture. */
function nameHeight(lane: Lane, axis: Axis): number {
  const rows = Math.ceil(((lane.label ?? "").length * 9.5) / axis.left);
  return 20 * rows + 18 * lane.channels.length + 10;
}

function keyOf({ flow }: Band<DrawnFlow>): string {
  return `${flow.channel} ${flow.source.role} ${flow.start}`;
}

interface BandProps {
  readonly band: Band<DrawnFlow>;
  readonly drawing: Drawing;
  readonly y: (rate: number) => number;
}

function BandShape({ band, drawing, y }: BandProps) {
  const { axis, founding, telling, say } = drawing;
  const { flow } = band;
  const outline = outlineOf(band, axis, y);
  return (
    <g
      className={`band ${isAdded(flow.source.role) ? "added" : "primary"}`}
      {...speaking(`${flow.channel}, ${flowSentence(flow, telling)}`, say)}
    >
      <path className="body" d={outline} />
      {inked(band, founding).map(({ start, end, floor, rate, basis }) => (
        <rect
          key={start}
          className={`ink ${basis}`}
          x={axis.x(start)}
          y={y(floor + rate)}
          width={axis.x(end) - axis.x(start)}
          height={y(floor) - y(floor + rate)}
        />
      ))}
      <path className="edge" d={outline} />
    </g>
  );
}

/** One closed path: along the top to the right, back along what lies beneath. */
function outlineOf({ steps }: Band<DrawnFlow>, axis: Axis, y: (rate: number) => number): string {
  const at = (ms: number) => axis.x(ms).toFixed(1);
  const top = steps.map((step) => `V${y(step.floor + step.rate).toFixed(1)}H${at(step.end)}`);
  const back = [...steps].reverse().map((step) => `V${y(step.floor).toFixed(1)}H${at(step.start)}`);
  return `M${at(steps[0]!.start)} ${y(steps[0]!.floor).toFixed(1)}${top.join("")}${back.join("")}Z`;
}
