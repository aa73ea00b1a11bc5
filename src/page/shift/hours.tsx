/**
 * The hours of the shift: the picture and the tables under it, all on one axis, then the picture in words. Laid
 * out for the width there is; what is wider scrolls within itself and begins at the present.
 */

import { type RefObject, useEffect, useMemo, useRef } from "react";
import type { ShiftSheet } from "../api/sheet.js";
import { blocksOf, heightOf } from "../picture/amounts.js";
import type { Drawing } from "../picture/lane.js";
import { lanesOf } from "../picture/lanes.js";
import { lateAfterOf, marksOf } from "../picture/marks.js";
import { Picture } from "../picture/picture.js";
import { axisOf, thickness } from "../picture/scale.js";
import { textWidth, useWidth } from "../ui/width.js";
import { useSpeech } from "../words/language.js";
import { moment } from "../words/wall.js";
import type { Ask } from "./asked.js";
import { FigureTable } from "./figure-table.js";
import { rowsOfBalance, rowsOfLines, type TableRow } from "./table-rows.js";

/** What stands around a figure in the table, and how large it is on a tablet, in pixels. */
const AROUND = 3;
const FIGURE = 12;

interface HoursProps {
  readonly sheet: ShiftSheet;
  /** After how long something was charted late, an ISO 8601 duration. */
  readonly lateAfter: string;
  readonly ask: Ask;
}

export function Hours({ sheet, lateAfter, ask }: HoursProps) {
  const speech = useSpeech();
  const { words, figure } = speech;
  const [measured, width] = useWidth();
  const scroller = useRef<HTMLElement>(null);
  const { shift } = sheet;
  const lines = useMemo(() => rowsOfLines(shift, speech), [shift, speech]);
  const balance = useMemo(() => rowsOfBalance(shift, speech), [shift, speech]);
  const { intervals } = shift.volumes;
  const axis = axisOf(
    intervals.map(({ start, end }) => ({ start: moment(start), end: moment(end) })),
    width,
    useMemo(() => narrowestFor([...lines, ...balance], figure), [lines, balance, figure]),
  );
  const drawn = useMemo(
    () => ({
      lanes: lanesOf(sheet.flows, shift.volumes),
      blocks: blocksOf(shift.balance),
      marks: marksOf(sheet.entries, lateAfterOf(lateAfter)),
    }),
    [sheet, shift, lateAfter],
  );
  const crests = drawn.lanes.map((lane) => lane.crest);
  const heights = (["intake", "output"] as const).map((side) => heightOf(drawn.blocks, side));
  const now = moment(shift.until);
  const drawing: Omit<Drawing, "say"> = {
    axis,
    perRate: thickness([...crests, ...heights]),
    intervals,
    now: now < moment(shift.end) ? now : null,
    founding: { volumes: sheet.channels, channels: shift.totals.channels },
    telling: { speech, intervals },
  };
  const wider = axis.left + axis.plot + axis.right > width + 1;
  const nowAt = drawing.now === null ? null : axis.left + axis.x(drawing.now);
  useBroughtIntoSight(scroller, width > 0 && wider ? nowAt : null, shift.shift);
  const empty = lines.length === 1 && balance.every(({ sum, key }) => sum || key === "cumulative");
  return (
    <section aria-labelledby="hours" ref={measured}>
      <h2 id="hours">{words.table.heading}</h2>
      {empty && drawn.marks.length === 0 && <p className="empty">{words.table.nothing}</p>}
      {width > 0 && (
        <Picture sheet={sheet} drawn={drawn} drawing={drawing} scroller={scroller} wider={wider}>
          <FigureTable
            caption={words.table.captionLines}
            heading={words.table.lines}
            shift={shift}
            rows={lines}
            axis={axis}
            ask={ask}
          />
          <FigureTable
            caption={words.table.captionBalance}
            heading={words.table.balance}
            shift={shift}
            rows={balance}
            axis={axis}
            ask={ask}
          />
        </Picture>
      )}
    </section>
  );
}

/** The width in which the longest figure of any hour finds room. */
function narrowestFor(rows: readonly TableRow[], figure: (value: number) => string): number {
  const widths = rows.flatMap(({ cells, sum }) =>
    cells.map((cell) => (cell ? textWidth(figure(cell.value), FIGURE, sum ? 600 : 400) : 0)),
  );
  return Math.max(0, ...widths) + AROUND;
}

/** Brings the present into sight once per shift: where the hours are wider than the page, the latest are asked for. */
function useBroughtIntoSight(
  scroller: RefObject<HTMLElement | null>,
  nowAt: number | null,
  shift: string,
): void {
  const shown = useRef<string | null>(null);
  useEffect(() => {
    if (nowAt === null || scroller.current === null || shown.current === shift) return;
    shown.current = shift;
    scroller.current.scrollLeft = nowAt - scroller.current.clientWidth + 160;
  }, [scroller, nowAt, shift]);
}
