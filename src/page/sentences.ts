/** What the picture shows, in words: a sentence per flow and per span nobody knows. */

import { type Flow, fluidName, type Interval } from "./answers.js";
import type { Gap } from "./lanes.js";
import { duration, together } from "./numbers.js";
import { clockAmong } from "./wall.js";
import { words } from "./words.js";

/** "07:10 to 09:30: primary, Sodium chloride 0.9 %, 75 mL/h, 175 mL". */
export function flowSentence(flow: Flow, hours: readonly Interval[]): string {
  const fluid = fluidName(flow.fluid) ?? words.now.unidentified;
  const [from, to] = [clockAmong(flow.start, hours), clockAmong(flow.end, hours)];
  return together(words.flow.sentence(from, to, flow.role, fluid, flow.rate, flow.volume));
}

/** "11:20 to 11:55: 35 min not known, because …". */
export function gapSentence({ source, start, end }: Gap, hours: readonly Interval[]): string {
  const [from, to] = [clockAmong(source.start, hours), clockAmong(source.end, hours)];
  return together(words.flow.unknown(from, to, duration(end - start), source.reason));
}
