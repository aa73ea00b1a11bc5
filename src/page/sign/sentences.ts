/** Figures of signatures, said as the tables call them. */

import type { Category, SignedFigure } from "../api/shapes.js";
import type { Speech } from "../words/speech.js";
import { clock } from "../words/wall.js";

type Of = Pick<SignedFigure, "row" | "start" | "end">;

/** "Left forearm, 19:00–20:00: signed 75 mL, now 62.5 mL". */
export function figureSentence(
  { row, start, end }: Of,
  before: number,
  now: number,
  say: (row: string, interval: string, before: string, now: string) => string,
  speech: Speech,
): string {
  const { volume, words, clockSeenFrom } = speech;
  const write = row.of === "unmeasured" ? (count: number) => words.balance.times(count) : volume;
  return say(rowName(row, speech), `${clockSeenFrom(start, end)}–${clock(end)}`, write(before), write(now));
}

function rowName({ of, key, label }: SignedFigure["row"], { words }: Speech): string {
  if (of === "net") return words.balance.net;
  if (of === "volume") return key === null ? words.lines.noLine : label;
  return key !== null && key in words.categories ? words.categories[key as Category] : label;
}
