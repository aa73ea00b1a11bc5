/**
 * Time nobody knows: a gap in the band under a bracket with its minutes, as near to the bands as there
 * is room. Brackets of one lane never cross.
 */

import { duration } from "../words/numbers.js";
import { levels } from "./bands.js";
import type { Box } from "./labels.js";
import type { Gap, Lane } from "./lanes.js";
import type { Axis } from "./scale.js";
import { gapSentence, type Telling } from "./sentences.js";
import { type Say, speaking } from "./speaking.js";

const LEVEL = 26;
const LETTER = 7.2;

/** A gap with the room its bracket and text take. */
export interface PlacedGap {
  readonly gap: Gap;
  readonly text: string;
  readonly box: Box;
}

/** The height brackets need above the thickest moment of a lane. */
export function bracketRoom(lane: Lane): number {
  return lane.gaps.length === 0 ? 0 : (Math.max(...levels(lane.gaps)) + 1) * LEVEL;
}

/** Places the brackets of a lane just above whatever flows under them; `write` says how long one is. */
export function placeGaps(
  lane: Lane,
  axis: Axis,
  y: (rate: number) => number,
  write: (minutes: string) => string,
): PlacedGap[] {
  const texts = lane.gaps.map((gap) => write(duration(gap.end - gap.start)));
  const rooms = lane.gaps.map((gap, index) => {
    const half = Math.max(axis.x(gap.end) - axis.x(gap.start), texts[index]!.length * LETTER) / 2;
    const middle = (axis.x(gap.start) + axis.x(gap.end)) / 2;
    const centre = Math.min(Math.max(middle, half), axis.plot - half);
    return { start: centre - half, end: centre + half };
  });
  const level = levels(rooms);
  return lane.gaps.map((gap, index) => {
    const { start, end } = rooms[index]!;
    const under = lane.bands.flatMap(({ steps }) =>
      steps
        .filter((step) => axis.x(step.start) < end && start < axis.x(step.end))
        .map((step) => step.floor + step.rate),
    );
    const top = y(Math.max(0, ...under)) - (level[index]! + 1) * LEVEL;
    return { gap, text: texts[index]!, box: { x: start, y: top, width: end - start, height: LEVEL } };
  });
}

interface BracketProps {
  readonly placed: PlacedGap;
  readonly axis: Axis;
  readonly height: number;
  readonly telling: Telling;
  readonly say: Say;
}

/** The bracket over the gap's own time, its minutes above. */
export function Bracket({ placed: { gap, text, box }, axis, height, telling, say }: BracketProps) {
  const [x1, x2] = [axis.x(gap.start), axis.x(gap.end)];
  const y = box.y + 17.5;
  return (
    <g className="gap" {...speaking(`${gap.channel}, ${gapSentence(gap, telling)}`, say)}>
      <rect className="gap-room" x={x1} y={y} width={x2 - x1} height={height - y} />
      <path className="bracket" d={`M${x1 + 1} ${y + 6}V${y}H${x2 - 1}V${y + 6}`} />
      <text x={box.x + box.width / 2} y={box.y + 13} textAnchor="middle">
        {text}
      </text>
    </g>
  );
}
