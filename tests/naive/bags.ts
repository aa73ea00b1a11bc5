/** Bags on and off their hooks in the naive simulator, and what they leave to infuse. */

import { bolusEnds, secondaryEnds } from "./ends.js";
import { type Bag, channelOf, feeding, type Happening, TICKS, type Ward } from "./ward.js";

export function hung(ward: Ward, entry: Happening): void {
  const label = (entry.volume as number) * TICKS;
  const bag = ward.bags.get(entry.bag!) ?? {
    key: entry.bag!,
    holds: label,
    overfill: Math.floor((label * ward.overfill) / 1000),
    on: null,
  };
  ward.bags.set(bag.key, bag);
  if (entry.remaining !== undefined) bag.holds = entry.remaining * TICKS;
  const channel = channelOf(ward, entry.channel!);
  const role = entry.role!;
  if (channel.hangs[role] !== bag) takenDown(bag);
  const displaced = channel.hangs[role];
  if (displaced !== null && displaced !== bag) displaced.on = null;
  channel.hangs[role] = bag;
  bag.on = { channel, role };
  for (const source of ["primary", "secondary"] as const) {
    const programme = channel[source];
    const draws = source === role || feeding(channel, source) === bag;
    if (programme?.followsBag && !programme.keepingOpen && draws) programme.left = Math.max(0, bag.holds);
  }
}

/** What a bag holds changes; a level read is never what ends a flow, since no reading moves a course. */
export function bagChanged(ward: Ward, entry: Happening): void {
  const bag = ward.bags.get(entry.bag!);
  if (bag === undefined || entry.kind === "bag-level-read") return;
  if (entry.kind === "bag-adjusted") bag.holds += (entry.volume as number) * TICKS;
  if (entry.remaining !== undefined) bag.holds = entry.remaining * TICKS;
  if (entry.kind === "bag-taken-down") takenDown(bag);
}

/** A bag leaves its hook, and what it fed ends; of the primary's bag, a secondary that has none of its own too. */
function takenDown(bag: Bag): void {
  if (bag.on === null) return;
  const { channel, role } = bag.on;
  const fedSecondary = role === "secondary" || channel.hangs.secondary === null;
  bag.on = null;
  channel.hangs[role] = null;
  if (role === "primary") {
    channel.primary = null;
    bolusEnds(channel);
  }
  if (fedSecondary) secondaryEnds(channel);
}

/** A volume to infuse in ticks: as given, none (null), or what the bag holds; no bag sets no limit. */
export function toInfuse(volume: number | "none" | "bag", bag: Bag | null): number | null {
  if (volume === "none") return null;
  if (volume !== "bag") return volume * TICKS;
  return bag === null ? null : Math.max(0, bag.holds);
}
