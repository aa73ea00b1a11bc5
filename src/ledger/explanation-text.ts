/** What a figure consists of as JSON: each part of it, and every entry that made it so. Volumes are not rounded. */

import { computedOf, type Delivery, givenBy, isSpread } from "../infusion/delivery.js";
import { minus } from "../infusion/quantity.js";
import { earliest, latest, type Period } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";
import { anchorText } from "./anchor-text.js";
import { type Held, type Other, type SetBy, setBy } from "./explanation-causes.js";
import type { Parts } from "./explanation-parts.js";
import { unattributedText, volumeText } from "./flow-text.js";
import type { CountingEntry } from "./replay.js";
import type { Turns } from "./turns.js";

/** What explains the parts: how the channels came to run, what held them, and what was charted. */
interface Explaining {
  readonly turns: Turns;
  readonly held: readonly Held[];
  readonly others: readonly Other[];
  readonly entries: readonly CountingEntry[];
}

export function partsText(
  parts: Parts,
  { turns, held, others, entries }: Explaining,
  period: Period,
  zone: string,
) {
  const ran = parts.deliveries.map((delivery) => ({ delivery, by: setBy(delivery, turns) }));
  return {
    deliveries: ran.map(({ delivery, by }) => deliveryText(delivery, by, period, zone)),
    unattributed: parts.unattributed.map((amount) => unattributedText(amount, zone)),
    amounts: parts.amounts.map(({ entry, at, category, volume }) => ({
      entry,
      at: formatInstant(at, zone),
      category,
      volume: volumeText(volume),
    })),
    readings: parts.anchors.map((anchor) => anchorText(anchor, zone)),
    held: [...held, ...others.map((other) => ({ ...other, is: "other-source" as const }))].map(
      ({ channel, is, at, entry }) => ({ channel, how: is, since: formatInstant(at, zone), by: entry }),
    ),
    entries: [
      ...new Set([
        ...ran.flatMap(({ by }) => [by.startedBy, by.setBy, by.resumedBy ?? []].flat()),
        ...[...held, ...others].map(({ entry }) => entry),
        ...meanwhile(entries, parts.channels, period),
        ...parts.amounts.map(({ entry }) => entry),
        ...[...parts.unattributed, ...parts.countedLater].map(({ entry }) => entry),
        ...parts.anchors.flatMap(({ over, entry }) => [over, entry]),
      ]),
    ],
  };
}

/** What was charted about the channels in a period, both its ends included. */
function meanwhile(
  entries: readonly CountingEntry[],
  channels: ReadonlySet<string>,
  { start, end }: Period,
): string[] {
  return entries
    .map(({ placed }) => placed)
    .filter(({ entry }) => "channel" in entry && channels.has(entry.channel))
    .filter(({ entry }) => start <= entry.at && entry.at <= end)
    .map(({ id }) => id);
}

function deliveryText(delivery: Delivery, { startedBy, setBy }: SetBy, period: Period, zone: string) {
  const [start, end] = [latest(delivery.start, period.start), earliest(delivery.end, period.end)];
  return {
    channel: delivery.channel,
    line: delivery.line,
    bag: delivery.bag,
    role: delivery.role,
    start: formatInstant(start, zone),
    end: formatInstant(end, zone),
    rate: isSpread(delivery) ? null : millilitres(delivery.rate),
    computed: volumeText(minus(computedOf(delivery, end), computedOf(delivery, start))),
    volume: volumeText(minus(givenBy(delivery, end), givenBy(delivery, start))),
    basis: delivery.basis,
    reading: delivery.anchor,
    startedBy,
    setBy,
  };
}
