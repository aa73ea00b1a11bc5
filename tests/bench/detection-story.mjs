/**
 * What really happens in an invented shift of twelve hours, to the second: one to four channels with what is
 * done to them, and what their devices show whenever somebody looks. Who charts it, and how, is told
 * elsewhere; the only noise in here is the devices' own, and when people come to look.
 *
 * Rates are in mL/h, volumes in mL, but for what a display shows, which is in whole microlitres.
 */

import { Device } from "./detection-device.mjs";
import { bags, doings, usualRate, wholeSecond } from "./detection-doings.mjs";
import { STARTS } from "./detection-times.mjs";
import { HOUR, MINUTE } from "./story.mjs";

/**
 * @typedef {{ kind: string, at: number, ends?: number } & Record<string, any>} Event
 * @typedef {{ key: string, type: "pump" | "syringe", totals: "separate" | "combined", bias: number,
 *   rate: number, begins: number, base: Record<string, number>, events: Event[] }} Channel
 *   `bias` is by what share its device counts more than rate × time, `base` what it shows at first.
 */

/**
 * @param {import("./detection-random.mjs").Random} random
 * @param {{ event?: string, separate?: boolean }} wanted what must happen on the first channel, and whether
 *   it must keep separate totals and have run a secondary
 * @returns {Channel[]}
 */
export function shift(random, wanted = {}) {
  return Array.from({ length: random.whole(1, 4) }, (_, i) =>
    channelOf(random, `channel-${i + 1}`, i === 0 ? wanted : {}),
  );
}

function channelOf(random, key, wanted) {
  const opened = opening(random, key, wanted);
  const done = doings(random, opened, wanted);
  const events = [...done, ...bags(random, opened, done), ...looks(random, opened, done)];
  return shown({ ...opened, events: events.sort((a, b) => a.at - b.at) });
}

/** Three of five carry on from the shift before, and show what they counted then. */
function opening(random, key, { event, separate = event === "secondary" }) {
  const type = !separate && random.happens(0.2) ? "syringe" : "pump";
  const totals = type === "syringe" || (!separate && random.happens(0.15)) ? "combined" : "separate";
  const carriesOn = random.happens(0.6);
  const before = carriesOn ? random.between(20, 1_500) : 0;
  const secondaries = carriesOn ? random.oneOf([0, 0, 100, 250]) : 0;
  return {
    key,
    type,
    totals,
    carriesOn,
    bias: random.normal(0.02, 0.05),
    rate:
      type === "syringe"
        ? random.whole(4, 30) / 2
        : usualRate(Math.exp(random.between(Math.log(5), Math.log(250)))),
    begins: carriesOn ? STARTS - 30 * MINUTE : wholeSecond(STARTS + random.between(0, 9) * MINUTE),
    base: totals === "combined" ? { combined: before } : { primary: before, secondary: secondaries },
  };
}

/** When the totals are read: four to thirteen times about evenly, at the end, and before a clear. */
function looks(random, { begins, carriesOn }, done) {
  const times = random.whole(4, 13);
  const clears = done.filter(({ kind }) => kind === "clear");
  const regular = Array.from({ length: times }, (_, i) => {
    const due = STARTS + ((i + 1) * 12 * HOUR) / times;
    return wholeSecond(due + (i + 1 === times ? -random.between(0, 15) : random.between(-10, 10)) * MINUTE);
  }).filter((at) => clears.every((clear) => Math.abs(at - clear.at) > 10 * MINUTE));
  return [
    ...(carriesOn
      ? [look(random, wholeSecond(begins + random.between(25, 35) * MINUTE), { opens: true })]
      : []),
    ...regular.map((at, i) => look(random, at, { last: i + 1 === regular.length })),
    ...clears.map((clear) => ({ kind: "look", at: clear.at - 10_000, off: 0, both: true, before: clear })),
  ];
}

/** A tenth of them is charted three minutes off. Both totals are read at the ends of the shift, and now and then. */
function look(random, at, { opens = false, last = false }) {
  const off = random.happens(0.1) ? random.oneOf([-3, 3]) * MINUTE : 0;
  return { kind: "look", at, off, opens, both: opens || last || random.happens(0.5) };
}

/** The channel with what the device shows at every look. */
function shown(channel) {
  const device = new Device(channel);
  const events = channel.events.map((event) => {
    device.comeTo(event.at).do(event);
    return event.kind === "look" ? { ...event, shows: device.shows() } : event;
  });
  return { ...channel, events };
}
