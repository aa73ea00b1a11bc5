/**
 * What was delivered, with what was read allowed for. The rate-limited flow of a span
 * between readings is scaled so that it meets the reading's increment exactly; volumes that finished by
 * themselves, and what is signed, are held. What is more than flows can hold stands at the reading; what is
 * less comes off what flowed last before it, and off finished volumes only where nothing else is left.
 *
 * Invariants: the deliveries and unattributed amounts of an anchored span sum to its increment, and what is
 * held beyond that is stated; nothing is below nothing, and no curve falls; the course (when things ran) is never
 * moved.
 */

import { type Instant, latest, type Period } from "../time/instant.js";
import { type Anchor, anchorsOf, signedBefore } from "./anchor.js";
import type { Collected } from "./collected.js";
import { ascending, beginningIn, cutAt, inside } from "./cuts.js";
import { asComputed, cappedAt, type Delivery, scaledBy, spreadBy, type Unattributed } from "./delivery.js";
import type { Finished } from "./evidence.js";
import type { Flow, UnknownSpan } from "./flow.js";
import type { Signed } from "./held.js";
import { delivered, lesser, minus, NOTHING, plus, rateOf, type Volume } from "./quantity.js";

export interface Apportioned {
  readonly deliveries: readonly Delivery[];
  readonly unknown: readonly UnknownSpan[];
  readonly unattributed: readonly Unattributed[];
  readonly anchors: readonly Anchor[];
}

/** What a course handed out, apportioned. Spans that reach outside of what was handed out must be left out. */
export function apportioned(collected: Collected, signed: readonly Signed[] = []): Apportioned {
  const anchors = anchorsOf(collected, signed);
  const { flows, unknown, finished } = collected;
  if (anchors.length === 0) {
    return { deliveries: flows.map((flow) => asComputed(flow)), unknown, unattributed: [], anchors };
  }
  const work = new Work(flows, unknown, finished, signed, anchors);
  const kept = new Map(inTurn(anchors, signed).map((anchor) => [anchor, work.meet(anchor)]));
  const met = anchors.map((anchor) => {
    const unplaced = kept.get(anchor)!;
    return unplaced === NOTHING ? anchor : { ...anchor, unplaced };
  });
  return { ...work.done(), anchors: met };
}

/**
 * What was there when a span was signed comes before what was recorded since. Of either, a device's own
 * segment is the finest there is, so it is held when a reading's span is met, and the inner of two segments
 * when the outer one is.
 */
function inTurn(anchors: readonly Anchor[], signed: readonly Signed[]): Anchor[] {
  const since = (anchor: Anchor) => signed.filter(({ sequence }) => sequence < anchor.sequence).length;
  const isSegment = ({ kind }: Anchor) => kind === "segment";
  return [...anchors].sort(
    (a, b) =>
      since(a) - since(b) ||
      Number(isSegment(b)) - Number(isSegment(a)) ||
      a.to - b.to ||
      (isSegment(a) ? b.from - a.from : 0),
  );
}

/** A piece of a flow, cut wherever an anchor or a signed span begins or ends. */
interface Piece {
  readonly flow: Flow;
  /** What an anchor made of it; null as long as none has. */
  delivery: Delivery | null;
}

class Work {
  private readonly pieces = new Map<string, Piece[]>();
  private readonly spans = new Map<string, UnknownSpan[]>();
  private readonly even: Delivery[] = [];
  /** When each programme came to its limit by itself. */
  private readonly ends = new Map<string, Instant[]>();
  private readonly unattributed: Unattributed[] = [];
  private readonly segments: ReadonlySet<string>;

  constructor(
    flows: readonly Flow[],
    unknown: readonly UnknownSpan[],
    finished: readonly Finished[],
    private readonly signed: readonly Signed[],
    anchors: readonly Anchor[],
  ) {
    this.segments = new Set(anchors.filter(({ kind }) => kind === "segment").map(({ entry }) => entry));
    for (const { channel, programme, at } of finished) {
      listed(this.ends, `${channel} ${programme}`).push(at);
    }
    const signedCuts = signed.flatMap(({ from, to }) => [from, to]);
    const anchored = new Map<string, Instant[]>();
    for (const { channel, from, to } of anchors) listed(anchored, channel).push(from, to);
    const cuts = new Map(
      [...anchored].map(([channel, own]) => [channel, ascending([...own, ...signedCuts])] as const),
    );
    const everywhere = ascending(signedCuts);
    const cutsOf = (channel: string) => cuts.get(channel) ?? everywhere;
    for (const flow of flows) {
      const own = listed(this.pieces, flow.channel);
      for (const piece of cutAt(flow, cutsOf(flow.channel))) own.push({ flow: piece, delivery: null });
    }
    for (const span of unknown) {
      const bounds = [span.start, ...inside(cutsOf(span.channel), span), span.end];
      for (let i = 0; i + 1 < bounds.length; i++) {
        listed(this.spans, span.channel).push({ ...span, start: bounds[i]!, end: bounds[i + 1]! });
      }
    }
  }

  /**
   * Makes a span come to what its anchor says; what was signed before stays as it is. Returns how much more than
   * that is held.
   */
  meet(anchor: Anchor): Volume {
    const isSigned = ({ end }: Period) => signedBefore(this.signed, end, anchor.sequence);
    const own = listed(this.pieces, anchor.channel);
    const all = beginningIn(own, anchor, ({ flow }) => flow.start).filter(({ flow }) =>
      concerns(anchor, flow),
    );
    const pieces = all.filter(({ flow }) => !isSigned(flow));
    const unknown = listed(this.spans, anchor.channel).filter(
      (span) => concerns(anchor, span) && !isSigned(span),
    );
    if (anchor.delivered === null) {
      // What a segment counted within is known all the same.
      for (const piece of pieces.filter((one) => !isAnchored(one))) {
        piece.delivery = { ...deliveryOf(piece), basis: "disputed", anchor: anchor.entry };
      }
      return NOTHING;
    }
    const held = pieces.filter((piece) => this.isHeld(piece, anchor));
    const finished = held.filter((piece) => !isAnchored(piece));
    const free = pieces.filter((piece) => !held.includes(piece));
    const settled = all.filter((piece) => !free.includes(piece)).map(volumeOf);
    const target = minus(anchor.delivered, plus(sum(settled), this.standing(anchor)));
    const computed = sum(free.map(({ flow }) => flow.volume));
    const rest = minus(target, computed);
    this.known(anchor, unknown);
    for (const piece of held) piece.delivery = resting(deliveryOf(piece), anchor);
    const open = unknown.filter(({ reason }) => reason !== "end-unconfirmed");
    if (open.length > 0 && rest > NOTHING && !anchor.metered) {
      for (const piece of free) piece.delivery = asComputed(piece.flow, anchor.basis, anchor.entry);
      this.even.push(...evenly(open, rest, anchor));
    } else if (!anchor.metered && mayScale(anchor, target, computed)) {
      let before = NOTHING;
      for (const piece of free) {
        const scale = { before, delivered: target, computed };
        piece.delivery = scaledBy(piece.flow, scale, anchor.basis, anchor.entry);
        before = plus(before, piece.flow.volume);
      }
    } else {
      for (const piece of free) piece.delivery = asComputed(piece.flow, anchor.basis, anchor.entry);
      // What finished by itself gives way last: the device comes first.
      if (rest < NOTHING) return takenOff([...finished, ...free], minus(NOTHING, rest), anchor);
      const origins = [...all.map(({ flow }) => flow), ...unknown];
      if (rest > NOTHING) this.unattributed.push(amountAt(anchor, origins, rest));
    }
    return NOTHING;
  }

  done() {
    const deliveries = [...this.pieces.values()].flatMap((own) => own.map(deliveryOf));
    return {
      deliveries: [...deliveries, ...this.even].sort((a, b) => a.start - b.start || a.end - b.end),
      unknown: [...this.spans.values()].flat(),
      unattributed: this.unattributed,
    };
  }

  /**
   * Held are what a segment anchors, and what finished by itself before the reading or the segment's end. The
   * level of a gravity set is all there is: what it was to give is only what was hoped for.
   */
  private isHeld(piece: Piece, anchor: Anchor): boolean {
    const { flow } = piece;
    if (isAnchored(piece)) return true;
    if (anchor.kind === "level") return false;
    const ends = this.ends.get(`${flow.channel} ${flow.programme}`) ?? [];
    return ends.some((at) => flow.end <= at && at <= anchor.to);
  }

  /** What segments within a span already put there beside its flows. */
  private standing(anchor: Anchor): Volume {
    const even = this.even.filter((one) => one.channel === anchor.channel && concerns(anchor, one));
    // What a device counted while nothing is known to have run is no secondary's.
    const likelyTotal = anchor.total === "secondary" ? "primary" : anchor.total;
    const amounts = this.unattributed.filter(
      ({ channel, entry, from, at, total, bag }) =>
        channel === anchor.channel &&
        this.segments.has(entry) &&
        concerns(anchor, { start: from, end: at, total: total ?? likelyTotal, bag }),
    );
    return sum([...even, ...amounts].map(({ volume }) => volume));
  }

  /** Takes what an anchor makes known out of what is unknown; what it disputes may still have flowed on. */
  private known(anchor: Anchor, unknown: readonly UnknownSpan[]): void {
    const still = (span: UnknownSpan) =>
      !unknown.includes(span) || (anchor.basis === "disputed" && span.reason === "end-unconfirmed");
    this.spans.set(anchor.channel, listed(this.spans, anchor.channel).filter(still));
  }
}

function deliveryOf({ delivery, flow }: Piece): Delivery {
  return delivery ?? asComputed(flow);
}

function volumeOf({ delivery, flow }: Piece): Volume {
  return (delivery ?? flow).volume;
}

/** By how much a flow may be scaled to meet a reading; a level is all there is on a gravity set. */
function mayScale(anchor: Anchor, target: Volume, computed: Volume): boolean {
  if (computed <= NOTHING || target < NOTHING) return false;
  if (anchor.kind === "level") return true;
  return target * 5n >= computed * 4n && target * 4n <= computed * 5n;
}

function concerns(anchor: Anchor, one: Period & { total: Flow["total"]; bag: Flow["bag"] }): boolean {
  if (one.start < anchor.from || one.end > anchor.to) return false;
  if (anchor.kind === "total") return one.total === anchor.total;
  return anchor.kind === "segment" || one.bag === anchor.bag;
}

function isAnchored({ delivery }: Piece): boolean {
  return delivery !== null && delivery.anchor !== null;
}

/** Takes a volume off pieces, the last one first, so that none is below nothing; returns what is left then. */
function takenOff(pieces: readonly Piece[], volume: Volume, { basis, entry }: Anchor): Volume {
  let left = volume;
  for (const piece of pieces.toReversed()) {
    if (left === NOTHING) break;
    const taken = lesser(left, piece.flow.volume);
    piece.delivery = cappedAt(piece.flow, minus(piece.flow.volume, taken), basis, entry);
    left = minus(left, taken);
  }
  return left;
}

function resting(delivery: Delivery, { basis, entry }: Anchor): Delivery {
  return { ...delivery, basis, anchor: delivery.anchor ?? entry };
}

/** A volume spread evenly over spans in which something flowed at a rate nobody knew. */
function evenly(spans: readonly UnknownSpan[], volume: Volume, anchor: Anchor): Delivery[] {
  const time = spans.reduce((milliseconds, { start, end }) => milliseconds + (end - start), 0);
  const rate = rateOf(Math.max(1, Number(volume / BigInt(time))));
  const computed = delivered(rate, time);
  let before = NOTHING;
  return spans.map(({ reason: _, ...span }) => {
    const own = delivered(rate, span.end - span.start);
    const flow: Flow = { ...span, programme: anchor.entry, rate, volume: own };
    const delivery = spreadBy(flow, { before, delivered: volume, computed }, anchor.basis, anchor.entry);
    before = plus(before, own);
    return delivery;
  });
}

/** What no flow can hold stands at the reading, with the bag and line where only one can have given it. */
function amountAt(anchor: Anchor, origins: readonly (Flow | UnknownSpan)[], volume: Volume): Unattributed {
  const only = <T>(of: (origin: (typeof origins)[number]) => T): T | null => {
    const all = new Set(origins.map(of));
    return all.size === 1 ? [...all][0]! : null;
  };
  const bag = only((one) => one.bag);
  return {
    channel: anchor.channel,
    line: only((one) => one.line) ?? anchor.line,
    bag,
    fluid: bag === null ? null : (origins[0]?.fluid ?? null),
    contents: [...new Set(origins.flatMap(({ contents }) => contents ?? []))],
    total: anchor.total ?? only((one) => one.total),
    entry: anchor.entry,
    from: anchor.from,
    at: anchor.to,
    volume,
    basis: anchor.basis,
  };
}

/** The part of an apportioned span that lies in a period; an amount on the period's end is in it. */
export function within(
  { deliveries, unknown, unattributed, anchors }: Apportioned,
  period: Period,
): Apportioned {
  const touches = ({ start, end }: Period) => start < period.end && end > period.start;
  return {
    deliveries: deliveries.filter(touches),
    unknown: unknown.filter(touches),
    unattributed: unattributed.filter(({ at }) => period.start <= at && at <= period.end),
    anchors: anchors.filter(({ from, to }) => latest(from, period.start) <= to && from < period.end),
  };
}

function sum(volumes: readonly Volume[]): Volume {
  return volumes.reduce(plus, NOTHING);
}

function listed<T>(map: Map<string, T[]>, key: string): T[] {
  const own = map.get(key) ?? [];
  map.set(key, own);
  return own;
}
