/**
 * How to read the picture: the scale square, the two hues, the textures and the marks that occur on this sheet.
 * Also defines the patterns the textures are drawn with.
 */

import type { Basis } from "../api/shapes.js";
import { useSpeech } from "../words/language.js";
import type { Drawing } from "./lane.js";
import { isAdded, type Lane } from "./lanes.js";
import { MarkShape } from "./mark-row.js";
import type { Mark, MarkKind } from "./marks.js";
import { scaleSquare } from "./scale.js";

const SLANT = "M-2 10L10 -2M-2 2L2 -2M6 10L10 6";
const BASES = ["measured", "apportioned", "computed", "disputed"] as const;
const MARKS = ["bag", "reading", "clear"] as const satisfies readonly MarkKind[];

interface LegendProps {
  readonly lanes: readonly Lane[];
  readonly marks: readonly Mark[];
  readonly drawing: Drawing;
}

/** The legend for what these lanes show. */
export function Legend({ lanes, marks, drawing }: LegendProps) {
  const { words, volume } = useSpeech();
  const square = scaleSquare(drawing.axis.perHour, drawing.perRate);
  const added = lanes.some((lane) => lane.bands.some((band) => isAdded(band.flow.source.role)));
  const found = new Set(drawing.founding.volumes.rows.flatMap((row) => row.basis));
  const kinds = new Set(marks.map(({ kind }) => (kind === "down" ? "bag" : kind)));
  return (
    <ul className="legend">
      <li>
        <svg className="swatch" width={square.side + 2} height={square.side + 2} aria-hidden="true">
          <rect className="scale-square" x={1} y={1} width={square.side} height={square.side} />
        </svg>
        {words.picture.square(volume(square.volume))}
      </li>
      {added && <Shown hue="primary" basis={null} text={words.picture.primary} />}
      {added && <Shown hue="added" basis={null} text={words.picture.added} />}
      {BASES.filter((basis) => found.has(basis)).map((basis) => (
        <Shown key={basis} hue="plain" basis={basis} text={words.picture.legend[basis]} />
      ))}
      {MARKS.filter((kind) => kinds.has(kind)).map((kind) => (
        <li key={kind}>
          <svg className="swatch mark" width={16} height={18} aria-hidden="true">
            <MarkShape kind={kind} x={8} y={9} />
          </svg>
          {words.picture.marks[kind]}
        </li>
      ))}
      {marks.some(({ late }) => late !== null) && (
        <li>
          <svg className="swatch mark" width={34} height={18} aria-hidden="true">
            <MarkShape kind="other" x={8} y={9} />
            <path className="late" d="M8 9H26" />
            <circle className="hollow" cx={29} cy={9} r={3} />
          </svg>
          {words.picture.marks.late}
        </li>
      )}
    </ul>
  );
}

interface ShownProps {
  readonly hue: "primary" | "added" | "plain";
  readonly basis: Basis | null;
  readonly text: string;
}

function Shown({ hue, basis, text }: ShownProps) {
  const size = { x: 1, y: 1, width: 26, height: 14 };
  return (
    <li>
      <svg className="swatch" width={28} height={16} aria-hidden="true">
        <g className={`band ${hue}`}>
          <rect className="body" {...size} />
          {basis !== null && <rect className={`ink ${basis}`} {...size} />}
          <rect className="edge" {...size} />
        </g>
      </svg>
      {text}
    </li>
  );
}

/** The patterns the textures refer to; put into the document once. */
export function Patterns() {
  return (
    <svg className="patterns" width={0} height={0} aria-hidden="true">
      <defs>
        <Tile id="slant-added" d={SLANT} size={8} hue="added" />
        <pattern id="slant-filled" width={8} height={8} patternUnits="userSpaceOnUse">
          <rect className="ground-of-added" width={8} height={8} />
          <path className="thread paper" d={SLANT} />
        </pattern>
        {["primary", "added", "plain"].map((hue) => (
          <Tile key={hue} id={`lines-${hue}`} d="M0 1.5H4" size={4} hue={hue} />
        ))}
        {["primary", "added", "plain"].map((hue) => (
          <Tile key={hue} id={`crossed-${hue}`} d="M0 0L8 8M0 8L8 0" size={8} hue={hue} />
        ))}
      </defs>
    </svg>
  );
}

function Tile({ id, d, size, hue }: { id: string; d: string; size: number; hue: string }) {
  return (
    <pattern id={id} width={size} height={size} patternUnits="userSpaceOnUse">
      <path className={`thread ${hue}`} d={d} />
    </pattern>
  );
}
