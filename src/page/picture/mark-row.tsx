/** The row of marks under a strip: each of its own shape, at its time; late ones joined to when they were charted. */

import type { Drawing } from "./lane.js";
import type { Mark, MarkKind } from "./marks.js";
import { markSentence } from "./sentences.js";
import { speaking } from "./speaking.js";

/** How high the row is, in pixels. */
export const MARK_ROOM = 18;

/** From what is tapped of a mark to either side of it. */
const REACH = 11;

/** How near to the ends of the picture a mark may stand. */
const EDGE = 6;

interface MarksProps {
  readonly marks: readonly Mark[];
  /** Where the row begins. */
  readonly top: number;
  readonly drawing: Drawing;
}

export function Marks({ marks, top, drawing }: MarksProps) {
  const middle = top + MARK_ROOM / 2 + 1;
  return marks.map((mark) => {
    // A mark at either end of the shift stays whole.
    const x = Math.min(Math.max(drawing.axis.x(mark.at), EDGE), drawing.axis.plot - EDGE);
    const recorded = mark.late === null ? null : Math.min(drawing.axis.x(mark.late), drawing.axis.plot);
    return (
      <g key={mark.entry.id} className="mark" {...speaking(markSentence(mark, drawing.telling), drawing.say)}>
        <rect className="gap-room" x={x - REACH} y={top} width={2 * REACH} height={MARK_ROOM} />
        {recorded !== null && <path className="late" d={`M${x} ${middle}H${recorded - 3}`} />}
        {recorded !== null && <circle className="hollow" cx={recorded} cy={middle} r={3} />}
        <MarkShape kind={mark.kind} x={x} y={middle} />
      </g>
    );
  });
}

/** A bag under its hook, filled when it was hung and empty when it was taken down; a tick; a struck-out ring. */
export function MarkShape({ kind, x, y }: { kind: MarkKind; x: number; y: number }) {
  switch (kind) {
    case "bag":
    case "down":
      return (
        <>
          <path className="stroke" d={`M${x} ${y - 7}V${y - 4}`} />
          <rect
            className={kind === "bag" ? "solid" : "hollow"}
            x={x - 3.5}
            y={y - 4}
            width={7}
            height={10}
            rx={2}
          />
        </>
      );
    case "reading":
      return <path className="stroke heavy" d={`M${x} ${y - 6}V${y + 6}M${x - 4} ${y + 6}H${x + 4}`} />;
    case "clear":
      return (
        <>
          <circle className="hollow" cx={x} cy={y} r={4.5} />
          <path className="stroke" d={`M${x - 5.5} ${y + 5.5}L${x + 5.5} ${y - 5.5}`} />
        </>
      );
    case "other":
      return <path className="solid" d={`M${x} ${y - 5}L${x + 5} ${y}L${x} ${y + 5}L${x - 5} ${y}Z`} />;
    default:
      return kind satisfies never;
  }
}
