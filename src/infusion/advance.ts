/**
 * What a channel does by itself between entries: it delivers; a bolus, a secondary or a volume to
 * infuse is reached; a bag comes to its capacity. Everything here is exact: an end falls on the first
 * whole millisecond at which rate × time reaches the limit, and the flow delivers exactly the limit.
 */

import { type Instant, later } from "../time/instant.js";
import { type Contents, contentsAt } from "./contents.js";
import { bagWith, channelWith, countersWith, programmeWith, withCounter } from "./copies.js";
import { counting, waiting } from "./counter.js";
import { type Flow, type FlowRole, flowWith, type Sink } from "./flow.js";
import { untilFound, withFound } from "./found-later.js";
import type { Counted } from "./mark.js";
import {
  delivered,
  greater,
  lesser,
  minus,
  NOTHING,
  plus,
  type Rate,
  timeToDeliver,
  type Volume,
} from "./quantity.js";
import {
  type Bag,
  type Channel,
  countedIn,
  type Draft,
  delivering,
  type FlowSource,
  type Programme,
} from "./state.js";

/** Works out a channel's course up to `to` (nothing if it is there already) and returns the channel then. */
export function advance(draft: Draft, key: string, to: Instant, sink: Sink): Channel {
  let channel = draft.channel(key)!;
  if (channel.upTo >= to) return channel;
  while (channel.upTo < to) {
    withFound(draft, channel);
    channel = endWhatIsDone(draft, key, sink);
    const until = untilFound(draft, channel, to);
    const source = delivering(channel);
    if (source === null) channel = draft.put(untold(channel, until, sink));
    else channel = deliverFrom(draft, channel, source, until, sink);
  }
  return endFinished(draft, channel, sink);
}

/**
 * The channel up to an instant with nothing charted that flows. What a metered one delivers is told by its
 * readings alone, so until the next one nobody knows, unless somebody stopped it.
 */
function untold(channel: Channel, to: Instant, sink: Sink): Channel {
  const total = countedIn(channel, "primary");
  const runs = channel.type === "metered" && channel.connected && channel.hold === "none";
  if (!runs || total === null) return channelWith(channel, { upTo: to });
  const passed = { start: channel.upTo, end: to };
  const { line } = channel;
  const nothing = { bag: null, fluid: null, contents: null };
  const where = { channel: channel.channel, line, ...nothing, role: "primary" as const, total };
  sink.unknown({ ...where, ...passed, reason: "unread" });
  const counter = channel.counters[total];
  if (counter === undefined) return channelWith(channel, { upTo: to });
  const counted = counting(counter, { ...passed, volume: NOTHING, rate: null }, false);
  return channelWith(withCounter(channel, total, counted), { upTo: to });
}

/** A bolus or secondary that has its volume is done before the entries of that instant: a bag hung then is not for it. */
function endFinished(draft: Draft, channel: Channel, sink: Sink): Channel {
  const source = delivering(channel);
  if (source === null || source === "primary") return channel;
  const { left } = channel[source]!;
  if (left === null || left > NOTHING) return channel;
  return endFinished(draft, ended(draft, channel, source, feeding(draft, channel, source), sink), sink);
}

/**
 * Ends what has reached its limit at this very instant. An entry at that instant may still prevent the
 * end (the next bag is hung in the minute the last one is empty), so it is not done for every entry: only
 * for those that ask what flows.
 */
export function endWhatIsDone(draft: Draft, key: string, sink: Sink): Channel {
  let channel = draft.channel(key)!;
  for (let source = delivering(channel); source !== null; source = delivering(channel)) {
    const programme = channel[source]!;
    const bag = feeding(draft, channel, source);
    if (programme.left !== null && programme.left <= NOTHING)
      channel = reached(draft, channel, source, bag, sink);
    else if (bag !== undefined && plus(bag.holds, bag.overfill) <= NOTHING)
      channel = ended(draft, channel, source, bag, sink);
    else break;
  }
  return channel;
}

/** One step: delivers until `to` or until something happens by itself, whichever is first. */
function deliverFrom(draft: Draft, channel: Channel, source: FlowSource, to: Instant, sink: Sink): Channel {
  const programme = channel[source]!;
  const bag = feeding(draft, channel, source);
  const capacity = bag === undefined ? null : plus(bag.holds, bag.overfill);
  const role = roleOf(source, programme);
  const start = channel.upTo;
  if (programme.rate === "unknown" || draft.awayUnknown) {
    sink.unknown({
      channel: channel.channel,
      line: channel.line,
      bag: bag?.bag ?? null,
      fluid: bag?.fluid ?? null,
      contents: bag?.contents ?? null,
      role,
      total: countedIn(channel, source),
      start,
      end: to,
      reason: draft.awayUnknown ? "away" : "rate-unknown",
    });
    if (bag !== undefined) draft.hang(bagWith(bag, { mark: { ...bag.mark, atLeast: true } }));
    return draft.put(account(channel, source, { start, end: to, volume: NOTHING, rate: null }));
  }
  const rate = effectiveRate(programme, programme.rate);
  const limit = tighter(programme.left, capacity);
  const needed = limit === null ? Number.POSITIVE_INFINITY : timeToDeliver(rate, limit);
  const reachesLimit = needed <= to - start;
  const end = reachesLimit ? later(start, needed) : to;
  const volume = reachesLimit ? limit! : delivered(rate, to - start);
  const flow: Flow = {
    channel: channel.channel,
    line: channel.line,
    bag: bag?.bag ?? null,
    fluid: bag?.fluid ?? null,
    contents: bag?.contents ?? null,
    role,
    total: countedIn(channel, source),
    programme: programmeOf(programme, bag),
    start,
    end,
    rate,
    volume,
  };
  const contents = drawnFrom(bag, flow, sink);
  // What it delivered by its limit is known, whatever an entry at that very instant makes of it.
  if (reachesLimit)
    sink.finished({ channel: channel.channel, programme: programmeOf(programme, bag), at: end });
  if (bag !== undefined) {
    const overdrawn = minus(bag.holds, volume) < NOTHING;
    if (overdrawn && bag.holds >= NOTHING) {
      sink.note({
        code: "bag-overdrawn",
        at: later(start, timeToDeliver(rate, bag.holds)),
        entry: programme.startedBy,
        channel: channel.channel,
        bag: bag.bag,
        why: `the bag ${bag.bag} delivers more than it was said to hold`,
      });
    }
    const { entry, from, since, atLeast } = bag.mark;
    const mark = { entry, from, since: plus(since, volume), atLeast };
    draft.hang(bagWith(bag, { holds: minus(bag.holds, volume), contents, mark }));
  }
  return draft.put(account(channel, source, { start, end, volume, rate }));
}

/**
 * Hands out a flow and returns what drugs are left in its bag; the flow is cut where the last of them has gone, so
 * that what follows can be told apart. The millisecond in which that happens belongs to what follows.
 */
function drawnFrom(bag: Bag | undefined, flow: Flow, sink: Sink): Contents | null {
  const { contents, start, end, rate, volume } = flow;
  const after =
    bag === undefined || contents === null ? null : contentsAt(minus(bag.holds, volume), contents);
  const carrying = after === null ? NOTHING : minus(bag!.holds, after.spentAt);
  if (after === contents || volume === carrying) {
    sink.flow(flow);
    return after;
  }
  const whole = timeToDeliver(rate, carrying);
  const cut = later(start, delivered(rate, whole) === carrying ? whole : whole - 1);
  const first = delivered(rate, cut - start);
  if (start < cut) sink.flow(flowWith(flow, start, cut, first));
  sink.flow({ ...flowWith(flow, cut, end, minus(volume, first)), contents: after });
  return after;
}

/** What flows for a while if nothing comes to its end meanwhile; null where something does. */
export function steadyFlow(
  draft: Draft,
  channel: Channel,
  milliseconds: number,
): { readonly total: ReturnType<typeof countedIn>; readonly volume: Volume } | null {
  const source = delivering(channel);
  if (source === null) return { total: null, volume: NOTHING };
  const programme = channel[source]!;
  if (programme.rate === "unknown" || draft.awayUnknown) return { total: null, volume: NOTHING };
  const bag = feeding(draft, channel, source);
  const limit = tighter(programme.left, bag === undefined ? null : plus(bag.holds, bag.overfill));
  const volume = delivered(effectiveRate(programme, programme.rate), milliseconds);
  return limit === null || volume < limit ? { total: countedIn(channel, source), volume } : null;
}

export function roleOf(source: FlowSource, programme: Programme): FlowRole {
  return source === "primary" && programme.keepingOpen ? "keep-open" : source;
}

/** What was programmed: a limit that is "what the bag holds" makes each bag a programme of its own. */
function programmeOf(programme: Programme, bag: Bag | undefined): string {
  const { startedBy, followsBag, keepingOpen } = programme;
  if (keepingOpen) return `${startedBy}/keep-open`;
  return followsBag && bag !== undefined ? `${startedBy}/${bag.bag}` : startedBy;
}

/** The rate a programme runs at: at keep-open never faster than it ran before. */
export function effectiveRate(programme: Programme, rate: Rate): Rate {
  if (!programme.keepingOpen || programme.keepOpenRate === null) return rate;
  return programme.keepOpenRate < rate ? programme.keepOpenRate : rate;
}

function tighter(a: Volume | null, b: Volume | null): Volume | null {
  if (a === null) return b;
  return b === null ? a : lesser(a, b);
}

/**
 * The bag a source draws from: a secondary its own while that gives anything, then the primary's, as it
 * does when it has none; everything else the primary's.
 */
export function feeding(draft: Draft, channel: Channel, source: FlowSource): Bag | undefined {
  if (source === "secondary") {
    const own = draft.bag(channel.secondaryBag);
    if (own !== undefined && (plus(own.holds, own.overfill) > NOTHING || channel.primaryBag === null))
      return own;
  }
  return draft.bag(channel.primaryBag);
}

/** Books a delivered volume: on the programme, on the primary's limit for a bolus, on the running total. */
function account(channel: Channel, source: FlowSource, flow: Counted): Channel {
  const total = countedIn(channel, source);
  const waited = source === "secondary" ? primaryWaits(channel, flow) : channel.counters;
  const counter = total === null ? undefined : waited[total];
  const counters =
    total === null || counter === undefined
      ? waited
      : countersWith(waited, total, counting(counter, flow, source === "bolus"));
  const { volume, end: upTo } = flow;
  switch (source) {
    case "primary":
      return channelWith(channel, { upTo, counters, primary: taken(channel.primary, volume) });
    case "secondary":
      return channelWith(channel, { upTo, counters, secondary: taken(channel.secondary, volume) });
    case "bolus": {
      const { primary } = channel;
      const left = primary?.keepingOpen === true ? primary : taken(primary, volume);
      return channelWith(channel, { upTo, counters, bolus: taken(channel.bolus, volume), primary: left });
    }
    default:
      return source satisfies never;
  }
}

/** A programme with so much less to infuse. */
function taken(programme: Programme | null, volume: Volume): Programme | null {
  if (programme === null || programme.left === null) return programme;
  return programmeWith(programme, { left: greater(minus(programme.left, volume), NOTHING) });
}

/** The total that counts the primary remembers what that would have given while a secondary ran. */
function primaryWaits({ primary, counters, totals }: Channel, { start, end }: Counted): Channel["counters"] {
  const total = totals === "combined" ? "combined" : "primary";
  const counter = counters[total];
  if (counter === undefined || primary === null || primary.rate === "unknown") return counters;
  return countersWith(counters, total, waiting(counter, delivered(primary.rate, end - start)));
}

/** A programme has delivered what it was to. A primary with a keep-open rate goes on at it. */
function reached(
  draft: Draft,
  channel: Channel,
  source: FlowSource,
  bag: Bag | undefined,
  sink: Sink,
): Channel {
  const programme = channel[source]!;
  if (source === "primary" && programme.keepOpenRate !== null) {
    sink.finished({ channel: channel.channel, programme: programmeOf(programme, bag), at: channel.upTo });
    return draft.put(
      channelWith(channel, { primary: programmeWith(programme, { keepingOpen: true, left: null }) }),
    );
  }
  return ended(draft, channel, source, bag, sink);
}

/** A source ends by itself; if nothing flows afterwards, an entry has to confirm it. */
function ended(
  draft: Draft,
  channel: Channel,
  source: FlowSource,
  bag: Bag | undefined,
  sink: Sink,
): Channel {
  const programme = programmeOf(channel[source]!, bag);
  sink.finished({ channel: channel.channel, programme, at: channel.upTo });
  const next = channelWith(withoutSource(channel, source), {
    endedThemselves: [...channel.endedThemselves.filter((other) => other !== source), source],
  });
  return draft.put(
    delivering(next) === null
      ? channelWith(next, {
          unconfirmed: {
            at: channel.upTo,
            bag: bag?.bag ?? null,
            fluid: bag?.fluid ?? null,
            contents: bag?.contents ?? null,
            source,
            total: countedIn(channel, source),
          },
        })
      : next,
  );
}

/** The channel after one of its sources is over: the primary goes on, or the channel waits, as programmed. */
export function withoutSource(channel: Channel, source: FlowSource): Channel {
  const programme = channel[source];
  if (programme === null) return channel;
  switch (source) {
    case "primary":
      return channelWith(channel, { primary: null });
    case "secondary": {
      const over = channelWith(channel, { secondary: null });
      if (programme.whenDone === "go-on") return over;
      return channel.bolus === null
        ? channelWith(over, { hold: "waiting" })
        : channelWith(over, { bolus: programmeWith(channel.bolus, { returnsTo: "waiting" }) });
    }
    case "bolus":
      if (channel.hold === "paused") return channelWith(channel, { bolus: null });
      return channelWith(channel, {
        bolus: null,
        hold: programme.whenDone === "wait" ? "waiting" : programme.returnsTo,
      });
    default:
      return source satisfies never;
  }
}
