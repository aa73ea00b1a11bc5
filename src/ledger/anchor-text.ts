/** What a reading, level or segment says of the span before it, as JSON. */

import type { Anchor } from "../infusion/anchor.js";
import { minus, NOTHING } from "../infusion/quantity.js";
import { formatInstant } from "../time/zone.js";
import { volumeText } from "./flow-text.js";

export function anchorText(anchor: Anchor, zone: string) {
  const { kind, channel, total, bag, entry, over, from, to, shows, delivered, computed, basis } = anchor;
  const { unplaced = NOTHING } = anchor;
  return {
    kind,
    channel,
    total,
    bag,
    entry,
    over,
    start: formatInstant(from, zone),
    end: formatInstant(to, zone),
    shows: volumeText(shows),
    delivered: delivered === null ? null : volumeText(delivered),
    computed: volumeText(computed),
    difference: delivered === null ? null : volumeText(minus(delivered, computed)),
    unplaced: volumeText(unplaced),
    basis,
  };
}
