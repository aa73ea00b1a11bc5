/**
 * How a stay of the demo is told: who recorded what, and when, in times of the story. A time of the
 * story is a shift and what has passed since it began: `2+01:30` is an hour and a half into the second
 * of the three shifts, told as twelve hours each.
 *
 * Invariant: an entry happens at or before the moment at which it is recorded, so that leaving out what
 * is recorded later than an instant also leaves out whatever happens later than it.
 */

import { HOUR, MINUTE } from "../time/instant.js";
import type { Copied } from "./copied.js";

export type StoryShift = 1 | 2 | 3;

/** A shift and the hours and minutes since it began, `00:00` to `12:00`. */
export type StoryTime = `${StoryShift}+${number}:${number}`;

/** Turns a time of the story into an RFC 3339 instant. */
export type Clock = (time: StoryTime) => string;

export type Fields = Readonly<Record<string, unknown>>;

/** What one entry says. Its name and its time make its id; its fields are as on the wire. */
export interface Said {
  readonly name: string;
  readonly kind: string;
  /** When it happened; the moment of recording unless given. */
  readonly at?: StoryTime;
  /** False for what has no time of its own: an amendment, a void. */
  readonly timed: boolean;
  /** A function where a field is itself an instant. */
  readonly fields: Fields | ((clock: Clock) => Fields);
}

/** What one person, or one device, recorded at one moment. */
export interface Told {
  readonly recordedAt: StoryTime;
  readonly by: "nurse" | "device";
  readonly said: readonly Said[];
}

/** What becomes of the stay itself: another bed, or its end. */
export interface Turn {
  readonly at: StoryTime;
  readonly change: { readonly bed: string } | { readonly discharged: true };
}

export interface Story {
  readonly id: string;
  readonly bed: string;
  /** An invented name, and obviously so. */
  readonly patient: string;
  readonly admitted: StoryTime;
  /** Where somebody wrote down what the patient weighs. */
  readonly kilograms?: number;
  readonly told: readonly Told[];
  readonly turns?: readonly Turn[];
  readonly copied?: readonly Copied[];
}

/** Recorded by whichever nurse has the shift at that moment. */
export function nurse(recordedAt: StoryTime, ...said: readonly (Said | readonly Said[])[]): Told {
  return { recordedAt, by: "nurse", said: said.flat() };
}

/** Reported by the patient's devices, unasked. */
export function device(recordedAt: StoryTime, ...said: readonly (Said | readonly Said[])[]): Told {
  return { recordedAt, by: "device", said: said.flat() };
}

/** Says of entries when they happened, where that is not the moment of recording. */
export function at(time: StoryTime, ...said: readonly (Said | readonly Said[])[]): Said[] {
  return said.flat().map((each) => ({ ...each, at: each.at ?? time }));
}

/** An entry of a kind; `name` tells it from others of the same minute. */
export function said(name: string, kind: string, fields: Said["fields"]): Said {
  return { name, kind, timed: true, fields };
}

export function shiftOf(time: StoryTime): StoryShift {
  return Number(time[0]) as StoryShift;
}

/** Milliseconds from the start of the first shift; throws a RangeError on a time that no shift has. */
export function sinceStart(time: StoryTime): number {
  const [, shift, hours, minutes] = /^([123])\+(\d\d):(\d\d)$/.exec(time) ?? [];
  const [h, m] = [Number(hours), Number(minutes)];
  if (shift === undefined || m > 59 || h * 60 + m > 720) throw new RangeError(`no time of a shift: ${time}`);
  return ((Number(shift) - 1) * 12 + h) * HOUR + m * MINUTE;
}

/** The id of an entry of that name at that time: `2-0130-hang-saline-1`. */
export function idOf(name: string, time: StoryTime): string {
  return `${time.replace("+", "-").replace(":", "")}-${name}`;
}
