/**
 * The picture of a shift for paper: one lane per line over the hours of the tables, in which area is volume and ink
 * is what is written down; under them what was measured in and out. Pure; lengths in points of the widest paper.
 */

import { blocksOf, heightOf } from "../picture/amounts.js";
import { type Band, levels } from "../picture/bands.js";
import { inked } from "../picture/ink.js";
import { type DrawnFlow, type Lane, lanesOf } from "../picture/lanes.js";
import { scaleSquare, thickness } from "../picture/scale.js";
import { duration } from "../words/numbers.js";
import { moment } from "../words/wall.js";
import { NAME_SHARE, TOTAL_SHARE } from "./hours.js";
import { area, faint, line, lined, text } from "./shapes.js";
import type { Block, Shape } from "./sheet.js";
import type { Source } from "./source.js";

const WIDTH = 770;
/** A lane's least height, the room between lanes, and that of a bracket with its minutes. */
const LEAST = 11;
const BETWEEN = 3;
const BRACKET = 11;
/** Points for each pixel that the picture on the screen has. */
const SMALLER = 0.2;
/** The most that a side of the square for comparison is long. */
const SQUARE = 16;
const LETTER = 3.9;
/** The same of a name, in which wide letters may stand beside each other. */
const NAME_LETTER = 4.6;
const HOUR = 3_600_000;

/** How moments and rates become places. */
interface Scale {
  readonly x: (at: number) => number;
  readonly perRate: number;
}

export function pictureOf(source: Source): Block[] {
  const { sheet, speech } = source;
  const { shift } = sheet;
  const lanes = lanesOf(sheet.flows, shift.volumes);
  const blocks = blocksOf(shift.balance);
  if (lanes.length + blocks.length === 0) return [];
  const [above, below] = [heightOf(blocks, "intake"), heightOf(blocks, "output")];
  const perRate = thickness([...lanes.map(({ crest }) => crest), above, below]) * SMALLER;
  const columns = shift.volumes.intervals.length;
  const share = WIDTH / (NAME_SHARE + columns + TOTAL_SHARE);
  const [from, to] = [moment(shift.start), moment(shift.end)];
  const [left, plot] = [share * NAME_SHARE, share * columns];
  const scale: Scale = { x: (at) => left + (plot * (at - from)) / (to - from), perRate };
  const shapes: Shape[] = [];
  let top = 0;
  for (const lane of lanes) {
    const height = Math.max(LEAST, lane.crest * perRate) + bracketRoom(lane, scale, source);
    const ground = top + height;
    shapes.push(...laneShapes(lane, ground, scale, source));
    shapes.push(text(0, ground - 2, shortened(lane.label ?? speech.words.lines.noLine, left)));
    shapes.push(line([left, ground], [left + plot, ground]));
    top = ground + BETWEEN;
  }
  if (blocks.length > 0) {
    const ground = top + Math.max(above * perRate, LEAST / 2);
    for (const { side, start, end, floor, rate } of blocks) {
      const y = side === "intake" ? ground - (floor + rate) * perRate : ground + floor * perRate;
      const [x, width] = [scale.x(start) + 1, scale.x(end) - scale.x(start) - 2];
      shapes.push(area(x, y, width, rate * perRate, true));
    }
    shapes.push(text(0, ground + 2, shortened(speech.words.picture.amounts, left)));
    shapes.push(line([left, ground], [left + plot, ground]));
    top = ground + Math.max(below * perRate, LEAST / 2) + BETWEEN;
  }
  const hours = shift.volumes.intervals.map(({ start }) => scale.x(moment(start)));
  const grid = [...hours, left + plot].map((at) => faint([at, 0], [at, top]));
  return [
    {
      kind: "drawing",
      label: speech.words.picture.heading,
      width: WIDTH,
      height: top + SQUARE + 4,
      shapes: [...grid, ...shapes, ...legend(top + 2, (plot * HOUR) / (to - from), perRate, source)],
    },
  ];
}

/** How much an area is, and what its textures mean. */
function legend(top: number, perHour: number, perRate: number, { speech, words }: Source): Shape[] {
  const { picture } = speech.words;
  const { measured, apportioned, computed, disputed } = picture.legend;
  const { volume, side } = scaleSquare(perHour, perRate, SQUARE);
  const said = [picture.square(speech.volume(volume)), measured, apportioned, computed, disputed];
  return [
    area(0.5, top, side, side, false),
    text(side + 5, top + side / 2 + 2.5, `${words.area}; ${said.join("; ")}.`),
  ];
}

function laneShapes(lane: Lane, ground: number, scale: Scale, source: Source): Shape[] {
  const { sheet } = source;
  const founding = { volumes: sheet.channels, channels: sheet.shift.totals.channels };
  const { x, perRate } = scale;
  const place = ({ start, end, floor, rate }: { start: number; end: number; floor: number; rate: number }) =>
    [x(start), ground - (floor + rate) * perRate, x(end) - x(start), rate * perRate] as const;
  const bandShapes = (band: Band<DrawnFlow>): Shape[] => [
    ...inked(band, founding).flatMap(({ basis, ...piece }) => {
      if (basis === "measured") return [area(...place(piece), true)];
      if (basis === "apportioned") return lined(...place(piece), false);
      return basis === "disputed" ? lined(...place(piece), true) : [];
    }),
    ...band.steps.map((step) => area(...place(step), false)),
  ];
  return [...lane.bands.flatMap(bandShapes), ...brackets(lane, ground, scale, source)];
}

/** Time nobody knows: a bracket above the bands with its minutes, none across another. */
function brackets(lane: Lane, ground: number, scale: Scale, source: Source): Shape[] {
  const base = ground - Math.max(LEAST, lane.crest * scale.perRate);
  return placed(lane, scale, source).flatMap(({ from, to, middle, level, said }) => {
    const y = base - level * BRACKET;
    return [
      line([from, y], [from, y - 3], 0.8),
      line([from, y - 3], [to, y - 3], 0.8),
      line([to, y - 3], [to, y], 0.8),
      text(middle, y - 4.5, said, true),
    ];
  });
}

function bracketRoom(lane: Lane, scale: Scale, source: Source): number {
  return placed(lane, scale, source).reduce((most, { level }) => Math.max(most, (level + 1) * BRACKET), 0);
}

function placed(lane: Lane, { x }: Scale, { speech }: Source) {
  const gaps = lane.gaps.map(({ start, end }) => {
    const [from, to] = [x(start), x(end)];
    const said = speech.words.picture.unknown(duration(end - start));
    const half = Math.max(to - from, said.length * LETTER) / 2;
    const middle = Math.min((from + to) / 2, WIDTH - half);
    return { from, to, said, middle, start: middle - half, end: middle + half };
  });
  const level = levels(gaps);
  return gaps.map((gap, index) => ({ ...gap, level: level[index] ?? 0 }));
}

/** A name in the room beside the hours; the tables under it have it whole. */
function shortened(name: string, width: number): string {
  const most = Math.floor(width / NAME_LETTER);
  return name.length <= most ? name : `${name.slice(0, most - 1)}…`;
}
