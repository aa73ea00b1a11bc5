/** The states of the course table, each built from entries before 10:00 (rates in mL/h, volumes in mL). */

import { hang, mL, mLPerHour, on, pump, start, type Told } from "./bedside.js";

export const DEVICE = "device-1";
/** What the label of the primary bag says in the state where it runs dry; 1000 mL elsewhere. */
export const SMALL_BAG = 300;

const lines: Told[] = ["forearm", "hand"].map(
  (line) => ({ at: "06:00", kind: "line-placed", line, route: "intravenous" }) as Told,
);
const connected = [...lines, { ...pump("06:00"), device: DEVICE } as Told];
/** Hung and taken down before anything runs, so that it can be hung again. */
const withSpare = [
  ...connected,
  hang("06:00", "spare", 500),
  { at: "06:30", kind: "bag-taken-down", bag: "spare", remaining: mL(350) } as Told,
];
const ready = [...withSpare, hang("07:00", "saline", 1000)];
const running = [...ready, start("07:00", 120)];

const secondary = (clock: string, whenDone: "resume-primary" | "wait"): Told[] => [
  hang(clock, "antibiotic", 100, "secondary"),
  on(clock, "secondary-started", { rate: mLPerHour(150), volumeToInfuse: "bag", whenDone }),
];
const bolus = (clock: string): Told =>
  on(clock, "bolus-started", { rate: mLPerHour(60), volume: mL(20), whenDone: "return" });
const away = (clock: string): Told => ({
  at: clock,
  kind: "away-started",
  place: "Theatre",
  flows: "unknown",
});
const waiting = [...running, ...secondary("08:30", "wait")];

export const STATES: Readonly<Record<string, readonly Told[]>> = {
  unknown: lines,
  disconnected: [...running, on("09:00", "channel-disconnected")],
  idle: ready,
  primary: running,
  "no-bag": [...withSpare, start("07:00", 120)],
  "wide-open": [...ready, start("07:00", 120, { rate: "unknown" })],
  "keep-open": [...ready, start("07:00", 120, { volumeToInfuse: mL(240), keepOpenRate: mLPerHour(20) })],
  secondary: [...running, ...secondary("09:30", "resume-primary")],
  "secondary-asks": [...running, ...secondary("09:30", "wait")],
  "secondary-alone": [...ready, ...secondary("09:30", "resume-primary")],
  bolus: [...running, bolus("09:50")],
  "bolus-secondary": [...running, ...secondary("09:30", "resume-primary"), bolus("09:50")],
  "bolus-waiting": [...waiting, bolus("09:50")],
  paused: [...running, on("09:30", "flow-paused")],
  "paused-secondary": [...running, ...secondary("09:30", "resume-primary"), on("09:50", "flow-paused")],
  "paused-bolus": [...running, bolus("09:40"), on("09:50", "flow-paused")],
  waiting,
  after: [...running, ...secondary("08:00", "resume-primary"), bolus("09:00")],
  "volume-reached": [...ready, start("07:50", 120, { volumeToInfuse: mL(240) })],
  "ran-dry": [
    ...withSpare,
    hang("07:00", "saline", SMALL_BAG),
    start("07:10", 120, { volumeToInfuse: "none" }),
  ],
  "secondary-over": [...ready, ...secondary("09:10", "resume-primary")],
  stopped: [...running, on("09:30", "flow-stopped")],
  away: [...running, away("09:30")],
  discharged: [...running, { at: "09:30", kind: "discharged" }],
};
