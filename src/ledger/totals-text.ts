/** What every channel does and should show, as JSON. */

import type { Captured } from "../infusion/captured.js";
import { dropsForRate } from "../infusion/drops.js";
import type { SegmentJudged } from "../infusion/evidence.js";
import type { Flow } from "../infusion/flow.js";
import { minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import { type ChannelNow, flowsCountedIn, runningTotals, type TotalNow } from "../infusion/running.js";
import type { State } from "../infusion/state.js";
import type { Instant } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";
import { volumeText } from "./flow-text.js";

export type ChannelText = ReturnType<typeof channelText> & { readonly lineLabel: string | null };

/** What flowed from an instant on, for what is at risk, and what segments captured of it. */
interface Told {
  readonly flows: readonly Flow[];
  readonly from: Instant;
  readonly captured: readonly Captured[];
}

/** Every channel of a state. */
export function channelsText(
  state: State,
  told: Told,
  zone: string,
  labels: ReadonlyMap<string, string>,
): ChannelText[] {
  return runningTotals(state).map((now) => {
    const { line } = now.channel;
    const lineLabel = line === null ? null : (labels.get(line) ?? line);
    return { ...channelText(now, told, zone), lineLabel };
  });
}

function channelText(now: ChannelNow, { flows, from, captured }: Told, zone: string) {
  const { channel, delivering, flow } = now;
  const own = captured.find((one) => one.channel === channel.channel);
  const time = (at: Instant | null) => (at === null ? null : formatInstant(at, zone));
  const drops =
    flow?.rate != null && channel.dropFactor !== null
      ? { dripRate: dropsForRate(flow.rate, channel.dropFactor) }
      : {};
  return {
    channel: channel.channel,
    line: channel.line,
    connected: channel.connected,
    delivering,
    hold: channel.hold,
    flow:
      flow === null
        ? null
        : {
            bag: flow.bag,
            role: flow.role,
            rate: flow.rate === null ? null : millilitres(flow.rate),
            ...drops,
            left: flow.left === null ? null : volumeText(flow.left),
            emptyAt: time(flow.emptyAt),
            endsAt: time(flow.endsAt),
          },
    totals: now.totals.map((total) => totalText(channel.channel, total, flows, from, zone)),
    segments: own === undefined ? null : capturedText(own, zone),
  };
}

function capturedText({ since, segments, captured, untold }: Captured, zone: string) {
  return {
    since: formatInstant(since, zone),
    count: segments.length,
    captured: volumeText(captured),
    untold: volumeText(untold),
    last: segmentText(segments.at(-1)!, zone),
    waiting: segments.filter(({ outcome }) => outcome === "waits").map((one) => segmentText(one, zone)),
  };
}

function segmentText({ entry, start, at, value, comparison, outcome }: SegmentJudged, zone: string) {
  return {
    reading: entry,
    start: formatInstant(start, zone),
    end: formatInstant(at, zone),
    shows: volumeText(value),
    rateTime: volumeText(comparison.computed),
    outcome,
  };
}

function totalText(channel: string, total: TotalNow, flows: readonly Flow[], from: Instant, zone: string) {
  const counted = flowsCountedIn(flows, channel, total.total, total.since);
  const told = counted.reduce((sum, { volume }) => plus(sum, volume), NOTHING);
  const before = minus(total.atRisk, told);
  return {
    total: total.total,
    expected: volumeText(total.expected),
    lastReading: total.lastReading === null ? null : volumeText(total.lastReading),
    atRisk: volumeText(total.atRisk),
    since: formatInstant(total.since, zone),
    atLeast: total.atLeast,
    ...(total.waiting === null ? {} : { waiting: waitingText(total.waiting) }),
    flows: [
      ...earlier(total.since, from, before, zone),
      ...counted.map((flow) => ({
        start: formatInstant(flow.start, zone),
        end: formatInstant(flow.end, zone),
        bag: flow.bag,
        rate: millilitres(flow.rate),
        volume: volumeText(flow.volume),
      })),
    ],
  };
}

function waitingText({ entry, value, expected }: NonNullable<TotalNow["waiting"]>) {
  return { reading: entry, value: volumeText(value), expected: volumeText(expected) };
}

/** What flowed longer ago than is told flow by flow, as one. */
function earlier(since: Instant, from: Instant, volume: Volume, zone: string) {
  if (volume <= NOTHING || since >= from) return [];
  const [start, end] = [formatInstant(since, zone), formatInstant(from, zone)];
  return [{ start, end, bag: null, rate: null, volume: volumeText(volume) }];
}
