/** A volume to infuse that is "what the bag holds": resolved where a flow starts, and anew wherever the bag changes. */

import { channelWith, programmeWith } from "./copies.js";
import { greater, NOTHING, type Volume } from "./quantity.js";
import type { Bag, Channel, Programme } from "./state.js";

/** What a bag limits a flow to: a bag that gave more than it was said to hold has nothing left to infuse. */
export function limitBy({ holds }: Bag): Volume {
  return greater(holds, NOTHING);
}

/** The channel with the limits that follow a bag on it as the bag is now. */
export function resolvedAnew(channel: Channel, bag: Bag): Channel {
  const anew = (programme: Programme | null): Programme | null =>
    programme === null || !programme.followsBag || programme.keepingOpen
      ? programme
      : programmeWith(programme, { left: limitBy(bag) });
  if (bag.role === "secondary") return channelWith(channel, { secondary: anew(channel.secondary) });
  const flushes = channel.secondaryBag === null;
  return channelWith(channel, {
    primary: anew(channel.primary),
    secondary: flushes ? anew(channel.secondary) : channel.secondary,
  });
}
