/**
 * What is done to a channel in the course of a shift: rates, secondaries, boluses, pauses, clears, each where
 * it has room, and the bags that this takes. Rates are in mL/h, volumes in mL.
 */

import { Device } from "./detection-device.mjs";
import { ENDS, STARTS } from "./detection-times.mjs";
import { HOUR, MINUTE } from "./story.mjs";

/** What is done lies so far apart that its order is plain even when charted to five minutes. */
const APART = 10 * MINUTE;
/** How much longer things last with the slowest device. */
const SLOWEST = 1.06;

export const wholeSecond = (at) => Math.round(at / 1_000) * 1_000;

/** As rates are set: round ones, the more so the faster. */
export function usualRate(rate) {
  const step = rate < 20 ? 1 : rate < 100 ? 5 : 10;
  return Math.min(250, Math.max(2, Math.round(rate / step) * step));
}

/** What is done to a channel; what is wanted finds its place first. */
export function doings(random, channel, { event, separate }) {
  const kinds = [
    ...(event === undefined ? [] : [event]),
    ...(separate && event !== "secondary" ? ["secondary"] : []),
    ...Array.from({ length: random.oneOf([0, 0, 1, 1, 2, 3]) }, () => "rate"),
    ...(channel.type === "pump" && random.happens(0.4) ? ["secondary"] : []),
    ...(random.happens(0.2) ? ["bolus"] : []),
    ...(random.happens(0.25) ? ["pause"] : []),
    ...(random.happens(0.15) ? ["clear"] : []),
  ];
  const placed = [];
  for (const kind of kinds) {
    const made = MADE[kind](random, channel);
    const lasts = (made.lasts ?? 0) * SLOWEST;
    for (let tries = 0; tries < 30; tries++) {
      const at = wholeSecond(random.between(STARTS + 15 * MINUTE, ENDS - 20 * MINUTE - lasts));
      const free = placed.every((other) => at + lasts + APART < other.at || other.ends + APART < at);
      if (!free || (kind === "rate" && placed.filter((other) => other.kind === "rate").length > 3)) continue;
      placed.push({ kind, at, ends: wholeSecond(at + lasts), ...made });
      break;
    }
  }
  placed.sort((a, b) => a.at - b.at);
  return titrated(random, channel, placed).flatMap((one) =>
    one.kind === "pause" ? [one, { kind: "resume", at: one.at + one.lasts, of: one }] : [one],
  );
}

/** How each comes about; `lasts` in milliseconds at the nominal rate. */
const MADE = {
  rate: () => ({}),
  secondary(random) {
    const [volume, minutes] = [random.oneOf([50, 100, 100, 250]), random.oneOf([20, 30, 30, 60, 60, 120])];
    return {
      volume,
      rate: Math.min(400, (volume * 60) / minutes),
      lasts: Math.max(minutes, volume * 0.15) * MINUTE,
    };
  },
  bolus(random, { type }) {
    const volume = random.oneOf(type === "syringe" ? [1, 2, 2, 5] : [20, 50, 100, 250, 250, 500]);
    const rate = type === "syringe" ? 60 : random.oneOf(volume > 50 ? [500, 1_000] : [300, 500, 1_000]);
    return { volume, rate, lasts: (volume / rate) * HOUR };
  },
  pause: (random) => ({ lasts: wholeSecond(20 * MINUTE * Math.exp(random.normal(0.8, 1.6))) }),
  clear: (random) => ({ by: random.oneOf(["therapy-changed", "totals-reset"]) }),
};

/** New rates, each from the one before it: what is titrated goes to between two fifths and twice of it. */
function titrated(random, { rate, type }, placed) {
  let now = rate;
  return placed.map((event) => {
    if (event.kind !== "rate" && event.by !== "therapy-changed") return event;
    const before = now;
    while (now === before) {
      const aim = before * (random.happens(0.5) ? random.between(0.4, 0.85) : random.between(1.15, 2.2));
      now = type === "syringe" ? Math.max(1, Math.round(aim * 2) / 2) : usualRate(aim);
    }
    return { ...event, rate: now };
  });
}

/** The next bag whenever one is nearly empty, or with a change of therapy. */
export function bags(random, channel, done) {
  const boluses = done.filter(({ kind }) => kind === "bolus");
  const large = channel.rate >= 40 || boluses.some(({ volume }) => volume > 100);
  const labels = boluses.some(({ volume }) => volume > 250) ? [1_000] : large ? [500, 1_000] : [250, 500];
  const label = channel.type === "syringe" ? 50 : random.oneOf(labels);
  const device = new Device(channel);
  const found = [{ kind: "bag", at: channel.begins, label }];
  let [next, drawnBefore, spare] = [0, 0, random.between(0.02, 0.1)];
  for (let at = channel.begins; at < ENDS; at += MINUTE) {
    for (; next < done.length && done[next].at <= at; next++) {
      device.comeTo(done[next].at).do(done[next]);
      if (done[next].by !== "therapy-changed") continue;
      found.push({ kind: "bag", at: done[next].at, label });
      drawnBefore = device.drawn;
    }
    device.comeTo(at);
    const soon = boluses.find((bolus) => at < bolus.at && bolus.at < at + 6 * MINUTE)?.volume ?? 0;
    if (label - (device.drawn - drawnBefore) > spare * label + 1.1 * soon) continue;
    found.push({ kind: "bag", at: at + random.whole(1, 50) * 1_000, label });
    [drawnBefore, spare] = [device.drawn, random.between(0.02, 0.1)];
  }
  return found;
}
