/**
 * A stay of the open dataset as entries: every infusion is a channel of its own, its events what a
 * nurse would chart. Times are moved into the past by whole days, rates rounded to what an entry can say.
 */

import { readFileSync } from "node:fs";

export interface StayEvent {
  readonly type: string;
  readonly t: string;
  readonly seq: number;
  readonly infusionId?: string;
  readonly kind?: string;
  readonly rateMlPerHour?: string;
  readonly volumeMl?: string;
  readonly remainingMl?: string;
  readonly kg?: string;
}

export interface ExpectedTotal {
  readonly start: string;
  readonly end: string;
  readonly inMl: string;
}

export interface DatasetStay {
  readonly stay: string;
  readonly admitted: string;
  readonly discharged: string;
  readonly events: readonly StayEvent[];
  readonly expected: {
    readonly hourly: readonly ExpectedTotal[];
    readonly shift12h: readonly ExpectedTotal[];
    readonly day24h_from_0700: readonly ExpectedTotal[];
  };
}

const DAY = 86_400_000;

export function datasetStays(): readonly DatasetStay[] {
  const text = readFileSync(new URL("./stays.json", import.meta.url), "utf8");
  return (JSON.parse(text) as { stays: DatasetStay[] }).stays;
}

/** A number of the source, which may be a fraction, in mL to three decimals. */
function threeDecimals(text: string): number {
  const [numerator, denominator = "1"] = text.split("/");
  return Math.round((Number(numerator) / Number(denominator)) * 1_000) / 1_000;
}

export function numberOf(text: string): number {
  const [numerator, denominator = "1"] = text.split("/");
  return Number(numerator) / Number(denominator);
}

/** How times of a stay come to lie in the past: by whole days, so that hours and shifts stay the same. */
export function shiftedInto(stay: DatasetStay, lastDay: string): (time: string) => string {
  const end = Date.parse(`${stay.discharged}Z`);
  const days = Math.ceil((end - Date.parse(`${lastDay}T00:00:00Z`)) / DAY);
  return (time) => new Date(Date.parse(`${time}Z`) - days * DAY).toISOString();
}

const ROUTES: Readonly<Record<string, string>> = {
  iv: "iv-fluid",
  oral_gastric: "oral",
  pre_admission: "other-intake",
  enteral: "enteral-feed",
  blood: "blood-product",
};

const OUTPUTS: Readonly<Record<string, string>> = {
  urine: "urine",
  urine_with_irrigant: "urine",
  stool: "stool",
};

/** The entries of a stay, in the order of its events. */
export function entriesOf(stay: DatasetStay, time: (text: string) => string): object[] {
  const line = { kind: "line-placed", at: time(stay.admitted), line: "line", route: "intravenous" };
  return [line, ...stay.events.flatMap((event) => entriesOfEvent(event, time))];
}

function entriesOfEvent(event: StayEvent, time: (text: string) => string): object[] {
  const at = time(event.t);
  const channel = event.infusionId;
  const rate = event.rateMlPerHour === undefined ? 0 : threeDecimals(event.rateMlPerHour);
  switch (event.type) {
    case "bag_start": {
      const fluid = { name: `Infusion ${channel}`, category: "iv-fluid" };
      const [volume, remaining] = [threeDecimals(event.volumeMl!), threeDecimals(event.remainingMl!)];
      return [
        { kind: "channel-connected", at, channel, line: "line", type: "pump" },
        { kind: "bag-hung", at, channel, bag: `bag-${channel}`, fluid, volume, remaining },
        { kind: "flow-started", at, channel, rate, volumeToInfuse: "none" },
      ];
    }
    case "rate_change":
      return [{ kind: "rate-changed", at, channel, rate }];
    case "pause":
      return [{ kind: "flow-paused", at, channel }];
    case "resume":
      return [
        { kind: "flow-resumed", at, channel },
        { kind: "rate-changed", at, channel, rate },
      ];
    case "stop":
    case "complete":
      return [{ kind: "flow-stopped", at, channel }];
    case "bolus": {
      // A volume over the minute that begins at the event's time.
      const until = new Date(Date.parse(at) + 60_000).toISOString();
      const volume = threeDecimals(event.volumeMl!);
      return [{ kind: "intake-measured", at: until, from: at, category: ROUTES[event.kind!], volume }];
    }
    case "output":
      return [
        {
          kind: "output-measured",
          at,
          category: OUTPUTS[event.kind!] ?? "other-output",
          volume: threeDecimals(event.volumeMl!),
        },
      ];
    case "irrigation_in":
      return [{ kind: "irrigant-instilled", at, site: "bladder", volume: threeDecimals(event.volumeMl!) }];
    case "weight":
      return [{ kind: "weight-measured", at, weight: { value: threeDecimals(event.kg!), unit: "kg" } }];
    default:
      throw new Error(`the dataset has no event "${event.type}"`);
  }
}

/** How many infusions run at some time in a window: the tolerance is per window and running channel. */
export function runningIn(stay: DatasetStay, start: string, end: string): number {
  const spans = new Map<string, { from: string; to: string }>();
  for (const { type, t, infusionId } of stay.events) {
    if (infusionId === undefined) continue;
    const span = spans.get(infusionId) ?? { from: t, to: stay.discharged };
    spans.set(infusionId, type === "stop" || type === "complete" ? { ...span, to: t } : span);
  }
  return [...spans.values()].filter(({ from, to }) => from < end && to > start).length;
}
