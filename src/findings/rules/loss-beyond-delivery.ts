/** More was charted as lost than the channel delivered in that time: what goes beyond takes nothing off. */

import { type Apportioned, apportioned } from "../../infusion/apportion.js";
import { givenBy } from "../../infusion/delivery.js";
import type { DeliveryLost } from "../../infusion/entry.js";
import { minus, NOTHING, plus, type Volume, volumeOf } from "../../infusion/quantity.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { flowsOn } from "../lookup.js";

export const lossBeyondDelivery: Rule = {
  code: "entry-without-effect",
  runs: "asking",
  find: (evidence) => {
    const given = new Map<string, Apportioned>();
    return evidence.entries.flatMap(({ placed: { id, entry } }) => {
      if (entry.kind !== "delivery-lost") return [];
      const own = given.get(entry.channel) ?? apportionedOn(entry.channel, evidence);
      given.set(entry.channel, own);
      return found(id, entry, own, evidence) ?? [];
    });
  },
};

function found(
  id: string,
  entry: DeliveryLost,
  apportioned: Apportioned,
  evidence: Evidence,
): Found | undefined {
  const { channel, from: start, to: end } = entry;
  if (entry.volume === "unknown" || isUnknown(entry, evidence)) return undefined;
  const lost = volumeOf(entry.volume);
  const given = givenIn(entry, apportioned);
  if (lost <= given) return undefined;
  const { words } = evidence;
  return {
    code: "entry-without-effect",
    severity: "attention",
    subject: id,
    channel,
    start,
    end,
    entries: [id],
    volume: minus(lost, given),
    sentence:
      `${words.volume(lost)} were charted as lost on ${channel} from ${words.time(start)} to ${words.time(end)}, ` +
      `when it delivered ${words.volume(given)}: no more than that is taken off.`,
    settledBy: [
      { text: "An amendment of the loss, if its volume or its time was misread." },
      { text: "What the channel delivered besides, recorded late." },
    ],
  };
}

/** What a channel gave, with what was read allowed for: less than its rate says, where less was read. */
function apportionedOn(channel: string, { collected }: Evidence): Apportioned {
  const own = <One extends { readonly channel: string }>(all: readonly One[]) =>
    all.filter((one) => one.channel === channel);
  return apportioned({
    ...collected,
    flows: flowsOn(collected, channel),
    unknown: own(collected.unknown),
    readings: own(collected.readings),
    segments: own(collected.segments),
    levels: own(collected.levels),
  });
}

/** What a channel gave in the span of a loss, and what was read of it that no flow can hold. */
function givenIn(
  { channel, from, to }: DeliveryLost,
  { deliveries, unattributed }: Pick<Apportioned, "deliveries" | "unattributed">,
): Volume {
  const flowed = deliveries
    .filter((one) => one.channel === channel && one.start < to && from < one.end)
    .map((one) => minus(givenBy(one, to), givenBy(one, from)));
  const read = unattributed.filter((one) => one.channel === channel && one.from < to && from < one.at);
  return [...flowed, ...read.map(({ volume }) => volume)].reduce(plus, NOTHING);
}

function isUnknown({ channel, from, to }: DeliveryLost, { collected }: Evidence): boolean {
  return collected.unknown.some((one) => one.channel === channel && one.start < to && from < one.end);
}
