/**
 * The picture of a shift over its hours: a lane per line, what was measured in and out, and the running sums; under
 * it whatever shares its axis. Says what is pointed at, and says all of it in words below.
 */

import { type ReactNode, type RefObject, useState } from "react";
import type { ShiftSheet } from "../api/sheet.js";
import { useSpeech } from "../words/language.js";
import { clockAmong } from "../words/wall.js";
import type { Block } from "./amounts.js";
import { AmountsPicture } from "./amounts-strip.js";
import { InWords } from "./in-words.js";
import { type Drawing, LanePicture } from "./lane.js";
import type { Lane } from "./lanes.js";
import { Legend } from "./legend.js";
import { channelOf, type Mark } from "./marks.js";
import type { Axis } from "./scale.js";
import { runningSums } from "./sums.js";
import { SumsLegend, SumsPicture } from "./sums-strip.js";

/** What there is to draw. */
export interface Drawn {
  readonly lanes: readonly Lane[];
  readonly blocks: readonly Block[];
  readonly marks: readonly Mark[];
}

interface PictureProps {
  readonly sheet: ShiftSheet;
  readonly drawn: Drawn;
  readonly drawing: Omit<Drawing, "say">;
  readonly scroller: RefObject<HTMLElement | null>;
  /** Whether it is wider than its room, and scrolls. */
  readonly wider: boolean;
  readonly children: ReactNode;
}

export function Picture({ sheet, drawn, drawing, scroller, wider, children }: PictureProps) {
  const { words } = useSpeech();
  const [said, say] = useState<string | null>(null);
  const { lanes, blocks, marks } = drawn;
  const { axis, telling } = drawing;
  const full: Drawing = { ...drawing, say };
  const sums = runningSums(sheet.shift.balance, sheet.shift.until);
  const marksOn = (lane: Lane) =>
    marks.filter(({ entry }) => lane.channels.includes(channelOf(entry, sheet.hangings) ?? ""));
  const rest = marks.filter((mark) => !lanes.some((lane) => marksOn(lane).includes(mark)));
  return (
    <>
      <Legend lanes={lanes} marks={marks} drawing={full} />
      <p className="says" aria-hidden="true">
        {said ?? words.picture.hint}
      </p>
      <section
        className="sheet"
        ref={scroller}
        aria-label={words.picture.heading}
        tabIndex={wider ? 0 : undefined}
      >
        <NowStrip drawing={full} until={clockAmong(sheet.shift.until, telling.intervals)} />
        {lanes.map((lane) => (
          <Strip
            key={lane.key}
            axis={axis}
            name={
              <>
                <strong>{lane.label ?? words.lines.noLine}</strong>
                {[...lane.channels].reverse().map((channel) => (
                  <span key={channel} className="soft">
                    {channel}
                  </span>
                ))}
              </>
            }
          >
            <LanePicture lane={lane} marks={marksOn(lane)} drawing={full} />
          </Strip>
        ))}
        <Strip axis={axis} name={<strong>{words.picture.amounts}</strong>} topMost>
          <AmountsPicture blocks={blocks} marks={rest} drawing={full} />
        </Strip>
        <Strip
          axis={axis}
          name={
            <>
              <strong>{words.picture.runningSums}</strong>
              <SumsLegend sums={sums} />
            </>
          }
        >
          <SumsPicture sums={sums} drawing={full} />
        </Strip>
        {children}
      </section>
      <InWords drawn={drawn} telling={telling} />
    </>
  );
}

interface StripProps {
  readonly axis: Axis;
  readonly name: ReactNode;
  /** Whether the name stands at the top, where the line of the strip is not at its foot. */
  readonly topMost?: boolean;
  readonly children: ReactNode;
}

function Strip({ axis, name, topMost = false, children }: StripProps) {
  return (
    <div className="strip" style={{ width: axis.left + axis.plot + axis.right }}>
      <div className={`strip-name ${topMost ? "top-most" : ""}`} style={{ width: axis.left }}>
        {name}
      </div>
      {children}
    </div>
  );
}

/** Where the present stands on the axis, while the shift runs. */
function NowStrip({ drawing: { axis, now }, until }: { readonly drawing: Drawing; readonly until: string }) {
  const { words } = useSpeech();
  if (now === null) return null;
  const x = axis.left + axis.x(now);
  const late = axis.x(now) > axis.plot - 80;
  return (
    <svg className="now-strip" width={axis.left + axis.plot + axis.right} height={20} aria-hidden="true">
      <path className="now-line" d={`M${x} 6V20`} />
      <text x={late ? x - 6 : x + 6} y={14} textAnchor={late ? "end" : "start"}>
        {words.picture.now(until)}
      </text>
    </svg>
  );
}
