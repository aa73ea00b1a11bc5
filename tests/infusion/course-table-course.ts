/**
 * A course, as the codes of the course table say it and as it is seen at the bedside. Both are phases:
 * what flows until nothing more does or nobody knows; then what flows once somebody resumes, or the
 * patient is back; and so on.
 */

import { deliveredBy, type FlowRole } from "../../src/infusion/flow.js";
import { minus, NOTHING, plus } from "../../src/infusion/quantity.js";
import { at, type Bedside, follows, inMl, on, type Told } from "./bedside.js";

interface Stretch {
  readonly role: FlowRole;
  /** mL/h */
  readonly rate: number | "unknown";
  /** mL */
  readonly volume: number | "endless";
  /** Undefined where the code names no bag. */
  readonly bag?: string | null;
}

/** `away` is time of which nobody knows until the patient is back. */
type Phase = readonly (Stretch | "away")[];

const ROLES: Readonly<Record<string, FlowRole>> = {
  p: "primary",
  u: "primary",
  k: "keep-open",
  s: "secondary",
  b: "bolus",
};
const RATES: Readonly<Record<string, number>> = { P: 120, K: 20, S: 150, B: 60 };

/** What the codes of a row and a column stand for where the cell does not say it itself. */
interface Meanings {
  /** The course the state has before the entry, for the volumes of capital letters. */
  readonly before: string;
  /** The "brings" of the row. */
  readonly brings: string;
  /** The bag the entry hangs. */
  readonly hangs: string | null;
}

/** The phases a course code stands for; a code that cannot be read is an error. */
export function phasesOf(course: string, meanings: Meanings): Phase[] {
  const phases: (Stretch | "away")[][] = [[]];
  if (course === "off") return [];
  for (const token of course.match(/[[\]?]|[^[\]?\s]+/g) ?? []) {
    if (token === "]") continue;
    if (token === "?") phases.at(-1)!.push("away");
    if (token === "[" || token === "?") phases.push([]);
    else phases.at(-1)!.push(stretchOf(token, meanings));
  }
  return phases;
}

function stretchOf(token: string, meanings: Meanings): Stretch {
  const parts = /^([PKSBUpksbu])(['^#]?)(?::(\*|\d+))?$/.exec(token);
  if (parts === null) throw new Error(`not a course: ${token}`);
  const [, letter = "", mark = "", given] = parts;
  const role = ROLES[letter.toLowerCase()]!;
  const bag = mark === "^" ? { bag: meanings.hangs } : {};
  if (letter.toUpperCase() === "U" && mark !== "'")
    return { role, rate: "unknown", volume: "endless", ...bag };
  const rate = broughtRate(mark === "'" ? "'" : letter, meanings.brings) ?? RATES[letter];
  const volume =
    given ?? broughtVolume(mark === "" ? letter : mark, meanings) ?? volumeBefore(letter, meanings);
  if (rate === undefined || volume === undefined) throw new Error(`no rate or volume for ${token}`);
  return { role, rate, volume: volume === "*" ? "endless" : Number(volume), ...bag };
}

/** Of "p@80:300 k@10": the 80 of p. Of "'90": the 90 of '. */
function broughtRate(sign: string, brings: string): number | undefined {
  const found = brings.split(" ").find((brought) => brought.startsWith(sign));
  const rate = found === undefined ? undefined : /^(?:[a-z]@|')(\d+)/.exec(found)?.[1];
  return rate === undefined ? undefined : Number(rate);
}

function broughtVolume(sign: string, { brings }: Meanings): string | undefined {
  const found = brings.split(" ").find((brought) => brought.startsWith(sign));
  return found === undefined ? undefined : /^(?:[a-z]@\d+:|\^|#)(\d+)$/.exec(found)?.[1];
}

function volumeBefore(letter: string, { before }: Meanings): string | undefined {
  return new RegExp(`${letter}:(\\*|\\d+)`).exec(before)?.[1];
}

/** Longer than any limited course of the table takes. */
const LONG_ENOUGH_HOURS = 100;
const PHASES_AT_MOST = 5;

/** What flows on pump-1 from 10:00 on, each time nothing more does resuming (or coming back). */
export function phasesSeen(told: readonly Told[]): Phase[] {
  const phases: Phase[] = [];
  let charted = [...told];
  for (let hour = 10; phases.length < PHASES_AT_MOST; hour += LONG_ENOUGH_HOURS) {
    const [from, until] = [`${hour}:00`, `${hour + LONG_ENOUGH_HOURS}:00`];
    const seen = follows(charted, until);
    const phase = stretches(seen, from, until);
    const { awayUnknown } = seen.state;
    if (phase.length > 0 || !awayUnknown) phases.push(phase);
    if (phase.some((stretch) => stretch !== "away" && stretch.volume === "endless")) break;
    charted = [...charted, awayUnknown ? { at: until, kind: "away-ended" } : on(until, "flow-resumed")];
    if (charted.length > told.length + PHASES_AT_MOST) break;
  }
  while (phases.length > 0 && phases.at(-1)!.length === 0) phases.pop();
  return phases;
}

/** Neighbouring flows of one role and rate as one stretch, whatever bags they drew from. */
function stretches({ flows, unknown }: Bedside, from: string, until: string): Phase {
  const [start, end] = [at(from), at(until)];
  const within = (flow: { channel: string; start: number; end: number }): boolean =>
    flow.channel === "pump-1" && flow.end > start && flow.start < end;
  const spans = unknown.filter((span) => span.reason !== "end-unconfirmed" && within(span));
  if (spans.some(({ reason }) => reason === "away")) return ["away"];
  const found = [
    ...flows.filter(within).map((flow) => ({
      ...flow,
      rate: flow.rate / 1_000,
      volume: minus(flow.volume, deliveredBy(flow, start)),
    })),
    ...spans.map((span) => ({ ...span, rate: "unknown" as const, volume: NOTHING })),
  ].sort((a, b) => a.start - b.start);
  const joined: (typeof found)[number][] = [];
  for (const flow of found) {
    const last = joined.at(-1);
    const goesOn = last?.role === flow.role && last.rate === flow.rate && last.end === flow.start;
    if (!goesOn) joined.push(flow);
    else joined[joined.length - 1] = { ...last, end: flow.end, volume: plus(last.volume, flow.volume) };
  }
  return joined.map(({ role, rate, volume, bag, end: stops }) => ({
    role,
    rate,
    volume: stops === end ? "endless" : inMl(volume),
    bag,
  }));
}

/** The phases seen, without the bags of stretches whose code names none. */
export function asFarAsTold(seen: readonly Phase[], told: readonly Phase[]): Phase[] {
  return seen.map((phase, i) =>
    phase.map((stretch, j) => {
      const wanted = told[i]?.[j];
      if (stretch === "away" || (typeof wanted === "object" && wanted.bag !== undefined)) return stretch;
      const { role, rate, volume } = stretch;
      return { role, rate, volume };
    }),
  );
}
