/**
 * One fault in the record of a shift: something left out, misread, or charted at another time. Each says
 * what a shift needs for it, what its true reason is called, how it is planted, and whether only people make it.
 *
 * @typedef {{ channel: string, start: number, end: number, without?: Set<object>, instead?: Map<object, object>,
 *   wrong?: (entry: string) => boolean }} Fault over a span; `without` and `instead` are the record's, and
 *   `wrong` tells by its id an entry that is the fault itself.
 */

import { idOfReading } from "./detection-record.mjs";
import { slip } from "./detection-slips.mjs";
import { ENDS } from "./detection-times.mjs";
import { MINUTE } from "./story.mjs";

/** By what they are called; each plants a fault, or nothing where the shift has no place for it. */
export const FAULTS = {
  "a rate change left out": {
    needs: { event: "rate" },
    reason: "rate-change-missing",
    plant: (random, channels) => leftOut(random, channels, "rate", untilTheNext),
  },
  "a secondary left out": {
    needs: { event: "secondary" },
    reason: "secondary-missing",
    plant: (random, channels) => leftOut(random, channels, "secondary", ({ ends }) => ends),
  },
  "a bolus left out": {
    needs: { event: "bolus" },
    reason: "bolus-missing",
    plant: (random, channels) => leftOut(random, channels, "bolus", ({ ends }) => ends),
  },
  "a pause left out": {
    needs: { event: "pause" },
    reason: "pause-missing",
    plant: (random, channels) => leftOut(random, channels, "pause", ({ at, lasts }) => at + lasts),
  },
  "a clear left out": { needs: { event: "clear" }, reason: "clear-missing", plant: unchartedClear },
  "a digit misread": { needs: {}, reason: "digits", plant: misread, misread: true },
  "the other total read": {
    needs: { separate: true },
    reason: "other-total",
    plant: otherTotal,
    misread: true,
  },
  "a rate change at a wrong time": { needs: { event: "rate" }, reason: "rate-change-late", plant: wrongTime },
};

/** What happens on the channels, of a kind. */
function all(channels, kind) {
  return channels.flatMap((channel) =>
    channel.events.filter((event) => event.kind === kind).map((event) => ({ channel, event })),
  );
}

/** A rate holds until the next one, or to the end. */
function untilTheNext(_, later) {
  return later.find(({ kind, by }) => kind === "rate" || by === "therapy-changed")?.at ?? ENDS;
}

/** An event that nobody charted, with what belongs to it; it lasts until `ended`. */
function leftOut(random, channels, kind, ended) {
  const candidates = all(channels, kind);
  if (candidates.length === 0) return null;
  const { channel, event } = random.oneOf(candidates);
  const later = channel.events.filter(({ at }) => at > event.at);
  const belongs = channel.events.filter(({ of }) => of === event);
  return {
    channel: channel.key,
    start: event.at,
    end: ended(event, later),
    without: new Set([event, ...belongs]),
  };
}

/** Half of those who forget to chart a clear have read the totals before it. A therapy's new start is charted. */
function unchartedClear(random, channels) {
  const candidates = all(channels, "clear");
  if (candidates.length === 0) return null;
  const { channel, event } = random.oneOf(candidates);
  const unread = random.happens(0.5) ? channel.events.filter(({ before }) => before === event) : [];
  const changed = event.by === "therapy-changed";
  return {
    channel: channel.key,
    start: event.at,
    end: event.at,
    without: new Set([...unread, ...(changed ? [] : [event])]),
    instead: new Map(changed ? [[event, { ...event, uncharted: true }]] : []),
  };
}

/** The readings of a shift, but for those that open it, by total. */
function readings(channels) {
  return all(channels, "look")
    .filter(({ event }) => !event.opens)
    .flatMap(({ channel, event }) =>
      Object.keys(event.shows)
        .filter((total) => total !== "secondary" || (event.both && event.shows.secondary > 0))
        .map((total) => ({ channel, event, total })),
    );
}

function wronglyRead({ channel, event, total }, volume) {
  return {
    channel: channel.key,
    start: event.at,
    end: event.at,
    instead: new Map([[event, { ...event, shows: { ...event.shows, [total]: volume } }]]),
    wrong: (entry) => entry === idOfReading(channel, event, total),
  };
}

function misread(random, channels) {
  const reading = random.oneOf(readings(channels));
  const digits = String(reading.event.shows[reading.total] / 100);
  const slipped = slip(random, digits);
  return slipped === digits ? null : wronglyRead(reading, Number(slipped) * 100);
}

function otherTotal(random, channels) {
  const candidates = readings(channels).filter(
    ({ event: { shows } }) => shows.secondary > 0 && shows.secondary !== shows.primary,
  );
  if (candidates.length === 0) return null;
  const reading = random.oneOf(candidates);
  const { shows } = reading.event;
  return wronglyRead(reading, reading.total === "primary" ? shows.secondary : shows.primary);
}

/** Ten minutes to an hour early or late, but not beyond what else was done on the channel. */
function wrongTime(random, channels) {
  const candidates = all(channels, "rate");
  if (candidates.length === 0) return null;
  const { channel, event } = random.oneOf(candidates);
  const by = random.oneOf([10, 15, 20, 30, 45, 60]) * MINUTE * random.oneOf([-1, 1]);
  const [start, end] = by < 0 ? [event.at + by, event.at] : [event.at, event.at + by];
  const others = channel.events.filter((one) => one !== event && one.kind !== "look" && one.kind !== "bag");
  const free = others.every((one) => (one.ends ?? one.at) < start - MINUTE || end + MINUTE < one.at);
  if (!free || start < channel.begins + 15 * MINUTE || end > ENDS) return null;
  const instead = new Map([[event, { ...event, at: event.at + by }]]);
  return { channel: channel.key, start, end, instead };
}
