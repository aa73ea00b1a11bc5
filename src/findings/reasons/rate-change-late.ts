/** Something on the channel happened earlier or later than it was charted, on the other side of the reading maybe. */

import type { Entry, Placed } from "../../infusion/entry.js";
import type { Flow } from "../../infusion/flow.js";
import { delivered, NOTHING, plus, type Rate, type Volume } from "../../infusion/quantity.js";
import { type Instant, later, MINUTE } from "../../time/instant.js";
import { SETTING } from "./entry-said.js";
import { amend } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { retold } from "./retelling.js";
import { countedFlows, endedByItself, onChannel, saidSince } from "./span.js";
import { likeliest, type Supposed, type Told } from "./supposed.js";
import { inShares, LAPSES } from "./usual.js";

/** What was charted only after the reading, which agreed without it, is that much likelier to be off. */
const SAID_SINCE = 9;

export function rateChangeLate(d: Disagreeing): Reason[] {
  return likeliest("rate-change-late", d, [...moved(d), ...movedAcross(d)]);
}

function* moved(d: Disagreeing): Iterable<Supposed> {
  const flows = countedFlows(d);
  const movable = onChannel(d).filter(
    ({ placed: { entry, source } }) =>
      source === "person" && SETTING[entry.kind] !== undefined && movableAlone(d, entry),
  );
  const since = new Set(saidSince(d).map(({ placed }) => placed.id));
  const weighted = movable.map(({ placed }) => ({ placed, weight: since.has(placed.id) ? SAID_SINCE : 1 }));
  for (const { placed, share: ofEntry } of inShares(weighted)) {
    const { entry } = placed;
    const around = sides(d, flows, entry.at);
    for (const { milliseconds, share } of LAPSES) {
      const change = changeBy(around, entry.at, milliseconds);
      if (change === null) continue;
      const tell = () => movedTo(d, placed, later(entry.at, milliseconds));
      const { increment, computed } = d.reading.comparison;
      yield { increment, would: plus(computed, change), share: share * ofEntry, tell };
    }
  }
}

/**
 * What is charted on one side of the reading and happened on the other. What it does to the reading only the
 * course told again can say, so few times are tried.
 */
function* movedAcross(d: Disagreeing): Iterable<Supposed> {
  const { at: read, over, channel } = d.reading;
  const own = d.retelling.entries.filter(({ entry }) => "channel" in entry && entry.channel === channel);
  const near = own.filter(({ entry, source }) => {
    const alone =
      own.filter((one) => one.entry.at === entry.at && one.entry.kind !== "bag-hung").length === 1;
    return alone && source === "person" && SETTING[entry.kind] !== undefined;
  });
  for (const placed of near) {
    const { at: charted } = placed.entry;
    for (const { milliseconds, share } of LAPSES) {
      const at = later(charted, milliseconds);
      const crosses = charted < read === at >= read;
      if (milliseconds % COARSE !== 0 || !crosses || at <= over.from || at > d.until) continue;
      const told = movedTo(d, placed, at);
      const { judged } = retold(d.reading, d.retelling, told.proposals);
      if (judged === undefined) continue;
      const { increment, computed } = judged.comparison;
      yield { increment, would: computed, share: share / near.length, tell: () => told };
    }
  }
}
const COARSE = 5 * MINUTE;

function movedTo(d: Disagreeing, { id, entry }: Placed, at: Instant): Told {
  return {
    sentence:
      `The ${SETTING[entry.kind]} charted at ${d.words.time(entry.at)} may have been at ` +
      `${d.words.time(at)}: with that the reading would agree.`,
    proposals: [amend(id, { ...entry, at }, "It was charted at another time than it happened.")],
  };
}

/**
 * Whether an entry after the mark can be moved by itself: not one of several charted at that instant, nor one
 * at which another source took over, which it would not move.
 */
function movableAlone(d: Disagreeing, { at, kind }: Entry): boolean {
  const moving = onChannel(d).filter(
    ({ placed: { entry } }) => entry.at === at && entry.kind !== "total-read" && entry.kind !== "bag-hung",
  );
  const sources = d.collected.flows
    .filter(({ channel, start, end }) => channel === d.reading.channel && start <= at && at <= end)
    .map(({ role }) => role);
  const takenOver = new Set(sources).size > 1 && kind !== "secondary-ended";
  return at > d.reading.over.from && moving.length === 1 && !takenOver;
}

/** What was counted on either side of an instant: at what rate, and for how long nothing else happened. */
interface Sides {
  readonly before: { readonly rate: Rate | 0; readonly from: Instant };
  readonly after: { readonly rate: Rate | 0; readonly to: Instant };
}

function sides(d: Disagreeing, flows: readonly Flow[], at: Instant): Sides {
  const times = onChannel(d).map(({ placed }) => placed.entry.at);
  const ends = [...times, ...flows.flatMap(({ start, end }) => [start, end])];
  const before = flows.find(({ start, end }) => start < at && at <= end);
  // A flow that comes to its limit delivers the same, whenever it began.
  const after = flows.find(({ start, end }) => start <= at && at < end);
  const fixed = after !== undefined && endedByItself(d, after);
  return {
    before: {
      rate: before?.rate ?? 0,
      from: Math.max(d.reading.over.from, ...ends.filter((time) => time < at)) as Instant,
    },
    after: {
      rate: after?.rate ?? 0,
      to: fixed ? at : (Math.min(d.reading.at, ...ends.filter((time) => time > at)) as Instant),
    },
  };
}

/** How the computed volume changes with what happened moved by so much; null where it cannot be moved so far. */
function changeBy({ before, after }: Sides, at: Instant, by: number): Volume | null {
  if (at + by <= before.from || at + by >= after.to || before.rate === after.rate) return null;
  const [gains, loses] = by > 0 ? [before.rate, after.rate] : [after.rate, before.rate];
  const of = (rate: Rate | 0) => (rate === 0 ? NOTHING : delivered(rate, Math.abs(by)));
  return (of(gains) - of(loses)) as Volume;
}
