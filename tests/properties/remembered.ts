/**
 * Encounters that random ones once shrank to: each is a place where the calculation and the simulator
 * disagreed, or where the specification had to be read twice. All begin at 07:00, on whole seconds.
 */

import { at, hang, mL, mLPerHour, on, placed, pump, rate, start, type Told } from "../infusion/bedside.js";
import type { Encounter } from "./arbitrary.js";

interface Remembered {
  readonly sentence: string;
  readonly encounter: Encounter;
}

const shift = (sentence: string, ...told: readonly Told[]): Remembered => ({
  sentence,
  encounter: { until: at("15:00"), entries: placed(told) },
});

const saline = [pump("07:00"), hang("07:00", "saline", 1000), start("07:00", 80)];
const secondary = (clock: string, volume: number, whenDone: "resume-primary" | "wait"): Told =>
  on(clock, "secondary-started", { rate: mLPerHour(200), volumeToInfuse: mL(volume), whenDone });
const bolus = (clock: string, whenDone: "return" | "wait"): Told =>
  on(clock, "bolus-started", { rate: mLPerHour(300), volume: mL(50), whenDone });
const onDevice = (clock: string, device: string): Told => ({ ...pump(clock), device }) as Told;
const patient = (clock: string, kind: string, more: object = {}): Told =>
  ({ at: clock, kind, ...more }) as Told;

export const REMEMBERED: readonly Remembered[] = [
  shift(
    "resumed in the very minute in which a secondary that makes the channel wait is done",
    ...saline,
    secondary("09:00", 100, "wait"),
    on("09:30", "flow-resumed"),
  ),
  shift(
    "a volume to infuse set while the flow is at its keep-open rate",
    pump("07:00"),
    hang("07:00", "saline", 1000),
    start("07:00", 80, { volumeToInfuse: mL(80), keepOpenRate: mLPerHour(10) } as Partial<Told>),
    on("09:00", "volume-to-infuse-set", { role: "primary", volumeToInfuse: mL(160) }),
  ),
  shift(
    "left and returned within one minute",
    ...saline,
    patient("09:00", "away-started", { flows: "unknown" }),
    patient("09:00", "away-ended"),
  ),
  shift(
    "another device, where the first was named only later",
    ...saline,
    onDevice("08:00", "a"),
    onDevice("09:00", "b"),
  ),
  shift(
    "a line removed and then its channel disconnected, on a device that clears its totals then",
    { ...pump("07:00"), clearsOn: ["disconnect"] } as Told,
    ...saline.slice(1),
    patient("09:00", "line-removed", { line: "forearm" }),
    on("09:00", "channel-disconnected"),
  ),
  shift(
    "stopped during a bolus that would make the channel wait: the secondary under it finishes",
    ...saline,
    secondary("09:00", 100, "resume-primary"),
    bolus("09:10", "wait"),
    on("09:15", "flow-stopped"),
  ),
  shift(
    "a new bag hung in the very minute in which the old one has given what it held",
    pump("07:00"),
    hang("07:00", "saline-1", 80),
    start("07:00", 80),
    hang("08:00", "saline-2", 500),
  ),
  shift(
    "the next secondary bag hung in the very minute in which the running one is done",
    ...saline,
    hang("09:00", "antibiotic-1", 100, "secondary"),
    on("09:00", "secondary-started", {
      rate: mLPerHour(200),
      volumeToInfuse: "bag",
      whenDone: "resume-primary",
    }),
    hang("09:30", "antibiotic-2", 100, "secondary"),
  ),
  shift(
    "a flush of what the primary's bag holds, and a new primary's bag during it",
    ...saline,
    on("08:00", "secondary-started", {
      rate: mLPerHour(400),
      volumeToInfuse: "bag",
      whenDone: "resume-primary",
    }),
    hang("08:30", "saline-2", 500),
  ),
  shift(
    "a bag that goes from one hook of a channel to the other",
    ...saline,
    hang("08:00", "saline", 1000, "secondary"),
    secondary("08:30", 50, "resume-primary"),
  ),
  shift(
    "a bag hung again has what it had left",
    pump("07:00"),
    hang("07:00", "saline", 100),
    start("07:00", 80, { volumeToInfuse: "none" } as Partial<Told>),
    patient("08:00", "bag-taken-down", { bag: "saline" }),
    hang("09:00", "saline", 100),
    start("09:00", 80, { volumeToInfuse: "none" } as Partial<Told>),
  ),
  shift(
    "a bag primed in the minute in which it is hung",
    ...saline.slice(0, 2),
    patient("07:00", "bag-adjusted", { bag: "saline", volume: mL(-900) }),
    start("07:00", 80),
  ),
  shift(
    "a bolus given while paused ends the pause",
    ...saline,
    on("08:00", "flow-paused"),
    bolus("08:30", "return"),
  ),
  shift(
    "a rate that changes what a waiting primary goes on at",
    ...saline,
    secondary("09:00", 100, "resume-primary"),
    rate("09:10", 120),
  ),
];
