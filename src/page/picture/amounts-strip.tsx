/** The strip of what was measured: intake as blocks above the line, output below it, as wide as their hour. */

import { useSpeech } from "../words/language.js";
import { type Block, heightOf } from "./amounts.js";
import { type Drawing, Grid } from "./lane.js";
import { MARK_ROOM, Marks } from "./mark-row.js";
import type { Mark } from "./marks.js";
import { amountSentence, categoryName } from "./sentences.js";
import { speaking } from "./speaking.js";

const LETTER = 15;
const DIGIT = 8;
const HEADROOM = 4;
const LEAST = 44;

interface AmountsProps {
  readonly blocks: readonly Block[];
  readonly marks: readonly Mark[];
  readonly drawing: Drawing;
}

export function AmountsPicture({ blocks, marks, drawing }: AmountsProps) {
  const speech = useSpeech();
  const { axis, perRate, telling, say } = drawing;
  const above = heightOf(blocks, "intake") * perRate + HEADROOM;
  const below = heightOf(blocks, "output") * perRate + HEADROOM;
  const height = Math.max(LEAST, Math.ceil(above + below));
  const ground = Math.round(above) + 0.5;
  return (
    <svg
      className="strip-picture"
      role="img"
      aria-label={speech.words.picture.amountsLabel}
      width={axis.plot}
      height={height + MARK_ROOM}
    >
      <Grid drawing={drawing} height={height} />
      {blocks.map((block) => {
        const { side, category, start, end, floor, rate, volume } = block;
        const [x, width, tall] = [axis.x(start) + 1.5, axis.x(end) - axis.x(start) - 3, rate * perRate];
        const y = side === "intake" ? ground - (floor + rate) * perRate : ground + floor * perRate;
        const lines = [categoryName(category, speech), speech.figure(volume)];
        // The name and the volume one above the other, else the volume alone, else neither.
        const written = [lines, lines.slice(1)].find(
          (some) => some.length * LETTER <= tall && some.every((one) => one.length * DIGIT <= width),
        );
        return (
          <g
            key={`${side} ${category} ${start} ${floor}`}
            className={`block ${side}`}
            {...speaking(amountSentence(block, telling), say)}
          >
            <rect x={x} y={y} width={width} height={tall} />
            {written?.map((text, line) => (
              <text
                key={text}
                className="on-ink"
                x={x + width / 2}
                y={y + tall / 2 + 4.5 + (line - (written.length - 1) / 2) * LETTER}
                textAnchor="middle"
              >
                {text}
              </text>
            ))}
          </g>
        );
      })}
      <path className="ground" d={`M0 ${ground}H${axis.plot}`} />
      <Marks marks={marks} top={height} drawing={drawing} />
    </svg>
  );
}
