/** The entries of the course table, each charted at 10:00 (rates in mL/h, volumes in mL). */

import { at, hang, mL, mLPerHour, on, pump, start, type Told } from "./bedside.js";
import { DEVICE, SMALL_BAG } from "./course-table-states.js";

const TEN = "10:00";

const plain = (kind: string, more: object = {}): Told => ({ at: TEN, kind, ...more }) as Told;
const connect = (line: string, device: string): Told => ({ ...pump(TEN, "pump-1", line), device }) as Told;
const hung = (bag: string, volume: number, role: "primary" | "secondary", remaining?: number): Told =>
  ({
    ...hang(TEN, bag, volume, role),
    ...(remaining === undefined ? {} : { remaining: mL(remaining) }),
  }) as Told;
const down = (bag: string, remaining?: number): Told =>
  plain("bag-taken-down", { bag, ...(remaining === undefined ? {} : { remaining: mL(remaining) }) });
const level = (bag: string, remaining: number): Told =>
  plain("bag-level-read", { bag, remaining: mL(remaining) });
const adjusted = (bag: string, volume: number): Told => plain("bag-adjusted", { bag, volume: mL(volume) });
const rateChanged = (role: string, to: number): Told =>
  on(TEN, "rate-changed", { role, rate: mLPerHour(to) });
const limited = (role: string, to: number | "none" | "bag"): Told =>
  on(TEN, "volume-to-infuse-set", { role, volumeToInfuse: typeof to === "number" ? mL(to) : to });
const secondary = (volumeToInfuse: number | "none" | "bag", whenDone = "resume-primary"): Told =>
  on(TEN, "secondary-started", { rate: mLPerHour(180), volumeToInfuse, whenDone });
const bolus = (whenDone: "return" | "wait"): Told =>
  on(TEN, "bolus-started", { rate: mLPerHour(300), volume: mL(30), whenDone });
const read = (total: string, volume: number): Told => on(TEN, "total-read", { total, volume: mL(volume) });
const reset = (...totals: string[]): Told => on(TEN, "totals-reset", { totals });
const labelled = (state: string): number => (state === "ran-dry" ? SMALL_BAG : 1000);

/** By the name of the row; some depend on what the bag of the state is. */
export const ENTRIES: Readonly<Record<string, Told | ((state: string) => Told)>> = {
  "line-placed": plain("line-placed", { line: "foot", route: "intravenous" }),
  "line-removed own": plain("line-removed", { line: "forearm" }),
  "line-removed other": plain("line-removed", { line: "hand" }),
  "line-removed unplaced": plain("line-removed", { line: "elbow" }),
  "channel-connected same": connect("forearm", DEVICE),
  "channel-connected other-line": connect("hand", DEVICE),
  "channel-connected other-device": connect("forearm", "device-2"),
  "channel-disconnected": on(TEN, "channel-disconnected"),

  "bag-hung primary new": hung("fresh", 500, "primary"),
  "bag-hung primary re-hung": hung("spare", 500, "primary"),
  "bag-hung primary same": (state) => hung("saline", labelled(state), "primary"),
  "bag-hung primary same-with-level": (state) => hung("saline", labelled(state), "primary", 400),
  "bag-hung secondary new": hung("fresh", 250, "secondary"),
  "bag-hung secondary re-hung": hung("spare", 500, "secondary"),
  "bag-taken-down primary": down("saline"),
  "bag-taken-down primary-with-level": down("saline", 600),
  "bag-taken-down secondary": down("antibiotic"),
  "bag-taken-down spare": down("spare"),
  "bag-taken-down spare-with-level": down("spare", 320),
  "bag-taken-down never-hung": down("nobody-hung-it"),
  "bag-level-read primary": level("saline", 720),
  "bag-level-read secondary": level("antibiotic", 40),
  "bag-level-read never-hung": level("nobody-hung-it", 40),
  "bag-adjusted withdrawn": adjusted("saline", -50),
  "bag-adjusted added": adjusted("saline", 50),
  "bag-adjusted never-hung": adjusted("nobody-hung-it", 50),

  "flow-started to-the-bag": start(TEN, 80),
  "flow-started given": start(TEN, 80, { volumeToInfuse: mL(300) }),
  "flow-started none": start(TEN, 80, { volumeToInfuse: "none" }),
  "flow-started keep-open": start(TEN, 80, { volumeToInfuse: mL(300), keepOpenRate: mLPerHour(10) }),
  "flow-started unknown": start(TEN, 80, { rate: "unknown" }),
  "rate-changed primary": rateChanged("primary", 90),
  "rate-changed primary-unknown": on(TEN, "rate-changed", { role: "primary", rate: "unknown" }),
  "rate-changed secondary": rateChanged("secondary", 200),
  "volume-to-infuse-set primary given": limited("primary", 150),
  "volume-to-infuse-set primary none": limited("primary", "none"),
  "volume-to-infuse-set primary bag": limited("primary", "bag"),
  "volume-to-infuse-set secondary given": limited("secondary", 40),
  "volume-to-infuse-set secondary none": limited("secondary", "none"),
  "flow-paused": on(TEN, "flow-paused"),
  "flow-resumed": on(TEN, "flow-resumed"),
  "flow-stopped": on(TEN, "flow-stopped"),

  "secondary-started given": secondary(mL(20)),
  "secondary-started given-asks": secondary(mL(20), "wait"),
  "secondary-started to-the-bag": secondary("bag"),
  "secondary-started none": secondary("none"),
  "secondary-ended": on(TEN, "secondary-ended"),
  "bolus-started": bolus("return"),
  "bolus-started asks": bolus("wait"),
  "bolus-stopped": on(TEN, "bolus-stopped"),

  "total-read primary": read("primary", 400),
  "total-read secondary": read("secondary", 60),
  "total-read combined": read("combined", 500),
  "totals-reset primary": reset("primary"),
  "totals-reset secondary": reset("secondary"),
  "totals-reset both": reset("primary", "secondary"),
  "therapy-changed": on(TEN, "therapy-changed"),
  "segment-read": on(TEN, "segment-read", { start: at("09:55"), volume: mL(5) }),
  "delivery-lost": on(TEN, "delivery-lost", { from: at("09:55"), to: at(TEN), volume: mL(10) }),
  "variance-settled": plain("variance-settled", { reading: "e1", use: "reading" }),

  "away-started unknown": plain("away-started", { flows: "unknown" }),
  "away-started go-on": plain("away-started", { flows: "go-on" }),
  "away-ended": plain("away-ended"),
  discharged: plain("discharged"),
  moved: plain("moved"),
  admitted: plain("admitted"),
  "intake-measured": plain("intake-measured", { category: "oral", volume: mL(100) }),
  "output-measured": plain("output-measured", { category: "urine" }),
  "irrigant-instilled": plain("irrigant-instilled", { volume: mL(50) }),
  "chamber-placed": plain("chamber-placed", { chamber: "drain-1", category: "drain" }),
  "chamber-read": plain("chamber-read", { chamber: "drain-1", category: "drain", level: 0 }),
  "chamber-emptied": plain("chamber-emptied", { chamber: "drain-1", category: "drain" }),
  "weight-measured": plain("weight-measured"),
};

/** The entry of a row, as it is charted in a state. */
export function entryOf(row: string, state: string): Told {
  const entry = ENTRIES[row];
  if (entry === undefined) throw new Error(`nothing is charted for ${row}`);
  return typeof entry === "function" ? entry(state) : entry;
}
