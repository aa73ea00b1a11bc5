/**
 * Evidence to write findings tests with, in the trade's words: what was told at the bedside, by when, and
 * who recorded it when. Unless said otherwise everything is recorded by one nurse a minute afterwards.
 */

import { defaultSettings, type Settings } from "../../src/conventions/settings.js";
import { findingsIn } from "../../src/findings/find.js";
import type { Evidence, FindingCode, Found, SignedSpan, Words } from "../../src/findings/finding.js";
import type { Source } from "../../src/infusion/entry.js";
import { inOrder } from "../../src/infusion/order.js";
import { segmentsJudged } from "../../src/infusion/segment.js";
import { NOTHING_KNOWN } from "../../src/infusion/state.js";
import { type Instant, later, MINUTE } from "../../src/time/instant.js";
import { at, follows, inMl, MIDNIGHT, mLPerHour, on, placed, type Told } from "../infusion/bedside.js";

export interface Circumstances {
  /** By the place of what was told, counted from 0. */
  readonly sources?: Readonly<Record<number, Source>>;
  /** When and by whom, by the place of what was told. */
  readonly recorded?: Readonly<Record<number, { at?: string; by?: string }>>;
  /** The first and last hour of shifts that have ended, such as `{ day: ["07:00", "19:00"] }`. */
  readonly shifts?: Readonly<Record<string, readonly [string, string]>>;
  readonly signed?: readonly SignedSpan[];
  /** The shift in which the patient left, its start, and when they did. */
  readonly left?: readonly [string, string, string];
  readonly settings?: Partial<Settings>;
  readonly from?: string;
}

export const WORDS: Words = {
  time(instant) {
    const minutes = Math.floor((instant - MIDNIGHT) / MINUTE);
    return `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
  },
  on: () => WORDS,
  volume: (volume) => `${inMl(volume)} mL`,
  rate: (rate) => `${rate / 1_000} mL/h`,
  duration(milliseconds) {
    const minutes = Math.floor(milliseconds / MINUTE);
    return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
  },
};

const two = (number: number): string => String(number).padStart(2, "0");

/** Everything up to `until`; entries of a later time are not known yet. */
export function evidence(told: readonly Told[], until: string, given: Circumstances = {}): Evidence {
  const settings: Settings = { ...defaultSettings, ...given.settings };
  const settingsAt = () => settings;
  const { sources = {}, recorded = {}, shifts = {}, left } = given;
  const { state, ...collected } = follows(told, until, settingsAt, sources);
  const known = inOrder(placed(told, sources)).filter(({ entry }) => entry.at <= at(until));
  const recordedAt = (index: number, happened: Instant) => {
    const said = recorded[index]?.at;
    return said === undefined ? later(happened, MINUTE) : at(said);
  };
  return {
    from: at(given.from ?? "00:00"),
    until: at(until),
    settingsAt,
    collected,
    segments: segmentsJudged(collected),
    entries: known.map((one) => ({
      placed: one,
      recordedAt: recordedAt(one.sequence - 1, one.entry.at),
      by: recorded[one.sequence - 1]?.by ?? "nurse-1",
    })),
    before: NOTHING_KNOWN,
    state,
    shiftEnds: Object.entries(shifts).map(([name, [start, end]]) => ({
      shift: `2026-03-04/${name}`,
      start: at(start),
      end: at(end),
      state: follows(told, end, settingsAt, sources).state,
    })),
    shiftAt: (instant) => {
      const own = Object.entries(shifts).find(
        ([, [start, end]]) => at(start) <= instant && instant < at(end),
      );
      return `2026-03-04/${own?.[0] ?? "other"}`;
    },
    leftIn:
      left === undefined ? null : { shift: `2026-03-04/${left[0]}`, start: at(left[1]), end: at(left[2]) },
    signed: given.signed ?? [],
    charts: [],
    words: WORDS,
  };
}

/** What is found of a code, when everything is asked for. */
export function findings(
  code: FindingCode,
  told: readonly Told[],
  until: string,
  given: Circumstances = {},
): Found[] {
  return findingsIn(evidence(told, until, given), "all").filter((found) => found.code === code);
}

/** The codes of everything that is found, in the order in which it is told. */
export function codes(told: readonly Told[], until: string, given: Circumstances = {}): FindingCode[] {
  return findingsIn(evidence(told, until, given), "all").map(({ code }) => code);
}

/** A running total read: in mL. */
export const read = (clock: string, volume: number, more: object = {}, channel = "pump-1"): Told =>
  on(clock, "total-read", { total: "primary", volume: volume * 1_000, ...more }, channel);

/** A secondary that gives what its bag holds. */
export const secondary = (clock: string, rate: number, more: object = {}, channel = "pump-1"): Told =>
  on(
    clock,
    "secondary-started",
    { rate: mLPerHour(rate), volumeToInfuse: "bag", whenDone: "resume-primary", ...more },
    channel,
  );

/** A volume a finding carries, in mL. */
export const inDoubt = ({ volume }: Found): number | null => (volume === null ? null : inMl(volume));
