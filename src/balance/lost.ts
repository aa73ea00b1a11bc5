/**
 * What left a device and did not reach the patient. It comes off what the channel gave in that span, in the
 * proportion in which its bags gave it, and off what was only read of it; never more than they gave.
 *
 * Invariant: losses that overlap come off what the others left. However many there are, what channels gave
 * less what they lost never falls, and is never below nothing.
 */

import { type Delivery, givenBy, type Unattributed } from "../infusion/delivery.js";
import type { DeliveryLost, Placed } from "../infusion/entry.js";
import { lesser, minus, NOTHING, plus, type Volume, volumeOf } from "../infusion/quantity.js";
import { earliest, type Instant, type Period } from "../time/instant.js";

/** A loss, and what of it could be taken off. */
export interface Loss extends Period {
  readonly entry: string;
  readonly channel: string;
  readonly reason: DeliveryLost["reason"];
  /** Null where nobody knows how much. */
  readonly volume: Volume | null;
  readonly takenOff: Volume;
}

/** What of a finest row, or of what no row can hold, did not reach the patient. */
export interface Losses {
  readonly told: readonly Loss[];
  /** Of a finest row between two instants. */
  takenOff(row: readonly Delivery[], from: Instant, to: Instant): Volume;
  takenOffAmount(amount: Unattributed): Volume;
  /** The spans in which nobody knows how much it lost. */
  unknown(of: readonly Delivery[] | Unattributed): readonly Period[];
}

export function lossesOf(
  entries: readonly Placed<DeliveryLost>[],
  rows: readonly (readonly Delivery[])[],
  unattributed: readonly Unattributed[],
): Losses {
  const channels = new Map<string, OnChannel>();
  const onChannel = (channel: string) => {
    const known = channels.get(channel) ?? new OnChannel(channel, entries, rows, unattributed);
    channels.set(channel, known);
    return known;
  };
  const takenOff = new Map<string, Volume>();
  // The shorter its span, the surer what it came off: that goes first.
  const length = ({ entry: { from, to } }: Placed<DeliveryLost>) => to - from;
  for (const { id, entry } of [...entries].sort((a, b) => length(a) - length(b))) {
    const span = { start: entry.from, end: entry.to };
    const own = onChannel(entry.channel);
    if (entry.volume === "unknown") own.doubt(span);
    else takenOff.set(id, own.take(span, volumeOf(entry.volume)));
  }
  const rowOf = (row: readonly Delivery[]) => channels.get(row[0]!.channel)?.rows.get(row);
  const amountOf = (amount: Unattributed) => channels.get(amount.channel)?.amounts.get(amount);
  return {
    told: entries.map(({ id, entry: { channel, from: start, to: end, reason, volume } }) => ({
      entry: id,
      channel,
      start,
      end,
      reason,
      volume: volume === "unknown" ? null : volumeOf(volume),
      takenOff: takenOff.get(id) ?? NOTHING,
    })),
    takenOff: (row, from, to) => rowOf(row)?.lostBetween(from, to) ?? NOTHING,
    takenOffAmount: (amount) => amountOf(amount)?.lost ?? NOTHING,
    unknown: (of) => ("volume" in of ? amountOf(of) : rowOf(of))?.doubts ?? [],
  };
}

/** What a channel on which something was lost gave, and what losses leave of it. */
class OnChannel {
  readonly rows = new Map<readonly Delivery[], Row>();
  readonly amounts = new Map<Unattributed, Amount>();

  constructor(
    channel: string,
    entries: readonly Placed<DeliveryLost>[],
    rows: readonly (readonly Delivery[])[],
    unattributed: readonly Unattributed[],
  ) {
    const own = unattributed.filter((one) => one.channel === channel);
    const lost = entries.filter(({ entry }) => entry.channel === channel);
    const since = earliest(...lost.map(({ entry }) => entry.from), ...own.map(({ from }) => from));
    for (const row of rows) if (row[0]!.channel === channel) this.rows.set(row, new Row(row, since));
    for (const one of own) this.amounts.set(one, new Amount(one));
  }

  /** Takes a loss off what is left in a span, as far as it reaches: that is answered. */
  take(span: Period, volume: Volume): Volume {
    const concerned = this.concerned(span);
    const whole = concerned.map((one) => one.leftIn(span)).reduce(plus, NOTHING);
    const taken = lesser(volume, whole);
    let before = NOTHING;
    for (const one of concerned) {
      const own = one.leftIn(span);
      one.cut(span, { before, whole, taken });
      before = plus(before, own);
    }
    return taken;
  }

  doubt(span: Period): void {
    for (const one of this.concerned(span)) one.doubts.push(span);
  }

  private concerned(span: Period): (Row | Amount)[] {
    return [...this.rows.values(), ...this.amounts.values()].filter((one) => one.meets(span));
  }
}

/** A place among what all gave in a span, and what of all is taken: over all of them it comes to just that. */
interface Share {
  readonly before: Volume;
  readonly whole: Volume;
  readonly taken: Volume;
}

/** What of the first ticks of a share is taken, in whole ticks: never more than there are. */
function takenOf({ before, whole, taken }: Share, ticks: Volume): Volume {
  if (whole <= NOTHING) return NOTHING;
  const scaled = (volume: Volume) => (volume * taken) / whole;
  return (scaled(plus(before, ticks)) - scaled(before)) as Volume;
}

interface Cut extends Period, Share {
  /** What those before it left of the row by its start, and in its span. */
  readonly base: Volume;
  readonly left: Volume;
}

/** A finest row on a channel. */
class Row {
  readonly doubts: Period[] = [];
  private readonly cuts: Cut[] = [];

  constructor(
    private readonly deliveries: readonly Delivery[],
    private readonly since: Instant,
  ) {}

  meets({ start, end }: Period): boolean {
    return this.deliveries.some((one) => one.start < end && start < one.end);
  }

  leftIn({ start, end }: Period): Volume {
    return minus(this.by(end).left, this.by(start).left);
  }

  cut(span: Period, share: Share): void {
    const { start, end } = span;
    this.cuts.push({ start, end, ...share, base: this.by(start).left, left: this.leftIn(span) });
  }

  lostBetween(from: Instant, to: Instant): Volume {
    if (!this.cuts.some(({ start, end }) => start < to && from < end)) return NOTHING;
    return minus(this.by(to).lost, this.by(from).lost);
  }

  /** What is left of it, and what was lost, by an instant. */
  private by(at: Instant): { readonly left: Volume; readonly lost: Volume } {
    let left = at <= this.since ? NOTHING : givenIn(this.deliveries, this.since, at);
    let lost = NOTHING;
    for (const cut of this.cuts) {
      if (at <= cut.start) continue;
      const taken = takenOf(cut, at >= cut.end ? cut.left : minus(left, cut.base));
      left = minus(left, taken);
      lost = plus(lost, taken);
    }
    return { left, lost };
  }
}

/** What was read at one instant of a span and no row can hold: nobody knows when in the span it was given. */
class Amount {
  readonly doubts: Period[] = [];
  lost = NOTHING;
  private left: Volume;

  constructor(private readonly of: Unattributed) {
    this.left = of.volume;
  }

  meets({ start, end }: Period): boolean {
    return this.of.from < end && start < this.of.at;
  }

  leftIn(): Volume {
    return this.left;
  }

  cut(_: Period, share: Share): void {
    const taken = takenOf(share, this.left);
    this.left = minus(this.left, taken);
    this.lost = plus(this.lost, taken);
  }
}

/** What a row gave between two instants, the first before the second. */
export function givenIn(row: readonly Delivery[], from: Instant, to: Instant): Volume {
  return row
    .filter(({ start, end }) => start < to && from < end)
    .map((delivery) => minus(givenBy(delivery, to), givenBy(delivery, from)))
    .reduce(plus, NOTHING);
}
