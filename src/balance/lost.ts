/**
 * What left a device and did not reach the patient. It comes off what the channel delivered in that span, in
 * the proportion in which its bags gave it, and never more than they gave.
 */

import { type Delivery, givenBy } from "../infusion/delivery.js";
import type { DeliveryLost, Placed } from "../infusion/entry.js";
import { lesser, minus, NOTHING, plus, type Volume, volumeOf } from "../infusion/quantity.js";
import { earliest, type Instant, latest, type Period } from "../time/instant.js";

/** A loss, and what of it could be taken off. */
export interface Loss extends Period {
  readonly entry: string;
  readonly channel: string;
  readonly reason: DeliveryLost["reason"];
  /** Null where nobody knows how much. */
  readonly volume: Volume | null;
  readonly takenOff: Volume;
}

export interface Losses {
  readonly told: readonly Loss[];
  /** What of a finest row did not reach the patient between two instants. */
  takenOff(row: readonly Delivery[], from: Instant, to: Instant): Volume;
  /** The spans in which a finest row lost nobody knows how much. */
  unknown(row: readonly Delivery[]): readonly Period[];
}

/** A finest row's share of a loss: its place among what all rows gave in the span. */
interface Share extends Period {
  readonly row: readonly Delivery[];
  readonly before: Volume;
  readonly whole: Volume;
  readonly takenOff: Volume;
}

export function lossesOf(
  entries: readonly Placed<DeliveryLost>[],
  rows: readonly (readonly Delivery[])[],
): Losses {
  const told: Loss[] = [];
  const shares: Share[] = [];
  const unknown: (Period & { readonly row: readonly Delivery[] })[] = [];
  for (const { id, entry } of entries) {
    const { channel, from: start, to: end, reason } = entry;
    const concerned = rows.filter(
      (row) => row[0]!.channel === channel && row.some((one) => one.start < end && start < one.end),
    );
    const whole = concerned.map((row) => givenIn(row, start, end)).reduce(plus, NOTHING);
    const volume = entry.volume === "unknown" ? null : volumeOf(entry.volume);
    const takenOff = volume === null ? NOTHING : lesser(volume, whole);
    told.push({ entry: id, channel, start, end, reason, volume, takenOff });
    let before = NOTHING;
    for (const row of concerned) {
      if (volume === null) unknown.push({ row, start, end });
      else shares.push({ row, start, end, before, whole, takenOff });
      before = plus(before, givenIn(row, start, end));
    }
  }
  return {
    told,
    takenOff: (row, from, to) =>
      shares
        .filter((share) => share.row === row && share.start < to && from < share.end)
        .map((share) => minus(takenBy(share, to), takenBy(share, from)))
        .reduce(plus, NOTHING),
    unknown: (row) => unknown.filter((one) => one.row === row),
  };
}

/** What a share had lost by an instant, in whole ticks; over all rows it comes to the loss. */
function takenBy({ row, start, end, before, whole, takenOff }: Share, at: Instant): Volume {
  if (whole <= NOTHING) return NOTHING;
  const given = givenIn(row, start, latest(start, earliest(at, end)));
  const scaled = (volume: Volume) => (volume * takenOff) / whole;
  return (scaled(plus(before, given)) - scaled(before)) as Volume;
}

function givenIn(row: readonly Delivery[], from: Instant, to: Instant): Volume {
  return row
    .filter(({ start, end }) => start < to && from < end)
    .map((delivery) => minus(givenBy(delivery, to), givenBy(delivery, from)))
    .reduce(plus, NOTHING);
}
