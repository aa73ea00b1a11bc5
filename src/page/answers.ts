/**
 * The shapes of the API's answers as far as this page reads them. Volumes are mL, rates mL/h,
 * instants RFC 3339 in the unit's own offset; the server validates, so nothing is checked again here.
 */

export interface Unit {
  id: string;
  name: string;
  zone: string;
}

interface Patient {
  identifier: string;
  name?: string | null;
}

export interface Encounter {
  id: string;
  unit: string;
  bed?: string | null;
  patient: Patient;
  admittedAt: string;
  dischargedAt?: string | null;
  /** In a list: when the patient left its unit. */
  leftAt?: string | null;
}

/** One shift of a stay; `date` is the day on which it starts. */
export interface StayShift {
  date: string;
  name: string;
  label?: string | null;
  start: string;
  end: string;
}

/** One encounter with the shifts of its stay, latest first. */
export interface Stay extends Encounter {
  shifts: StayShift[];
}

export type Basis = "measured" | "apportioned" | "computed" | "disputed" | "unknown";

export interface Interval {
  start: string;
  end: string;
  label: string;
  /** False for the hour that is still running, and for those to come. */
  complete: boolean;
}

export interface VolumeRow {
  key: string | null;
  label: string;
  /** Null where the interval has not begun. */
  volumes: (number | null)[];
  basis: (Basis | null)[];
  /** Minutes of each interval nobody knows; the volume is then a lower bound. */
  unknown: number[];
  total: number | null;
}

export interface Volumes {
  zone: string;
  from: string;
  to: string;
  asOf: { sequence: number; recordedAt: string | null };
  until: string;
  intervals: Interval[];
  rows: VolumeRow[];
  sums: (number | null)[];
  total: number | null;
}

export type Role = "primary" | "secondary" | "bolus" | "keep-open";

export type Fluid = string | { name: string };

export interface Flow {
  channel: string;
  line: string | null;
  bag: string | null;
  fluid: Fluid | null;
  role: Role;
  start: string;
  end: string;
  /** Null when nobody knows it. */
  rate: number | null;
  volume: number;
}

export interface UnknownSpan {
  channel: string;
  line: string | null;
  start: string;
  end: string;
  reason: string;
}

export interface Flows {
  from: string;
  to: string;
  until: string;
  flows: Flow[];
  unknown: UnknownSpan[];
}

export interface RunningTotal {
  total: "primary" | "secondary" | "combined";
  /** What the device should show. */
  expected: number | null;
  lastReading: number | null;
  /** Delivered since it was last written down: only the device knows it. */
  atRisk: number | null;
  since: string | null;
}

export interface ChannelNow {
  channel: string;
  line: string | null;
  lineLabel: string | null;
  delivering: "nothing" | "primary" | "secondary" | "bolus";
  flow: {
    bag: string | null;
    rate: number | null;
    dripRate?: number | null;
    left: number | null;
    emptyAt: string | null;
    endsAt: string | null;
  } | null;
  totals: RunningTotal[];
}

export interface Totals {
  at: string;
  channels: ChannelNow[];
}

/** A hanging as it was recorded: tells what a bag holds. */
export interface Hanging {
  bag: string;
  fluid?: Fluid | null;
  recorded: { state: "current" | "amended" | "voided" };
}

/** RFC 9457, as far as the page shows it. */
export interface Problem {
  title?: string;
  detail?: string;
}

/** What a fluid is called; null for fluid nobody identified. */
export function fluidName(fluid: Fluid | null | undefined): string | null {
  if (fluid === null || fluid === undefined) return null;
  return typeof fluid === "string" ? fluid : fluid.name;
}
