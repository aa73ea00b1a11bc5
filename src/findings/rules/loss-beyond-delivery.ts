/** More was charted as lost than the channel delivered in that time: what goes beyond takes nothing off. */

import { apportioned } from "../../infusion/apportion.js";
import { givenBy } from "../../infusion/delivery.js";
import type { DeliveryLost } from "../../infusion/entry.js";
import { minus, NOTHING, plus, type Volume, volumeOf } from "../../infusion/quantity.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { flowsOn } from "../lookup.js";

export const lossBeyondDelivery: Rule = {
  code: "entry-without-effect",
  runs: "asking",
  find: (evidence) =>
    evidence.entries.flatMap(({ placed }) =>
      placed.entry.kind === "delivery-lost" ? (found(placed.id, placed.entry, evidence) ?? []) : [],
    ),
};

function found(id: string, entry: DeliveryLost, evidence: Evidence): Found | undefined {
  const { channel, from: start, to: end } = entry;
  if (entry.volume === "unknown" || isUnknown(entry, evidence)) return undefined;
  const lost = volumeOf(entry.volume);
  // By rate × time alone there may be enough; what was read is looked at only where there is not.
  const onChannel = { ...evidence.collected, flows: flowsOn(evidence.collected, channel) };
  const unread = { ...onChannel, readings: [], segments: [], levels: [] };
  if (lost <= givenIn(entry, unread)) return undefined;
  const given = givenIn(entry, onChannel);
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

/** What a channel gave in the span of a loss, and what was read of it that no flow can hold. */
function givenIn({ channel, from, to }: DeliveryLost, collected: Evidence["collected"]): Volume {
  const { deliveries, unattributed } = apportioned(collected);
  const flowed = deliveries
    .filter((one) => one.channel === channel && one.start < to && from < one.end)
    .map((one) => minus(givenBy(one, to), givenBy(one, from)));
  const read = unattributed.filter((one) => one.channel === channel && one.from < to && from < one.at);
  return [...flowed, ...read.map(({ volume }) => volume)].reduce(plus, NOTHING);
}

function isUnknown({ channel, from, to }: DeliveryLost, { collected }: Evidence): boolean {
  return collected.unknown.some((one) => one.channel === channel && one.start < to && from < one.end);
}
