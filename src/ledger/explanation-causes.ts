/**
 * What made the parts of a figure so: what set the rates that ran, and, where nothing of a row did, what held
 * its channels or ran on them instead.
 */

import type { Delivery } from "../infusion/delivery.js";
import type { Instant, Period } from "../time/instant.js";
import type { Parts } from "./explanation-parts.js";
import { type RateTurn, type Standing, type StandTurn, starterOf, type Turns } from "./turns.js";

/** Whether turns reach back to whatever set the rates that ran, or made the channels stand where none did. */
export function explainedBy(
  { deliveries, meanwhile, channels }: Parts,
  { start }: Period,
): (turns: Turns) => boolean {
  const ran = [...deliveries, ...meanwhile.map(({ delivery }) => delivery)];
  return ({ rates, stands }) => {
    if (!ran.every((delivery) => rateOf(delivery, rates) !== undefined)) return false;
    const stood = (channel: string) => stands.some((one) => one.channel === channel && one.at <= start);
    return deliveries.length > 0 || [...channels].every(stood);
  };
}

/** What set the rate of a delivery, and what started its programme. */
export interface SetBy {
  readonly startedBy: string;
  readonly setBy: string;
  /** Of a flow that was held after its rate was set: what let it go on. */
  readonly resumedBy: string | null;
}

export function setBy(delivery: Delivery, { rates, stands }: Turns): SetBy {
  const rate = rateOf(delivery, rates);
  const startedBy = rate?.startedBy ?? starterOf(delivery.programme);
  const stood = stands.findLast(({ channel, at }) => channel === delivery.channel && at <= delivery.start);
  const resumed = rate !== undefined && stood !== undefined && stood.at > rate.at;
  return { startedBy, setBy: rate?.entry ?? startedBy, resumedBy: resumed ? stood.entry : null };
}

function rateOf({ channel, role, start }: Delivery, rates: readonly RateTurn[]): RateTurn | undefined {
  const source = role === "keep-open" ? "primary" : role;
  return rates.findLast((one) => one.channel === channel && one.source === source && one.at <= start);
}

/** Something else that a channel gave while a row had nothing: since when, and by which entry. */
export interface Other {
  readonly channel: string;
  readonly role: Delivery["role"];
  readonly waited: boolean;
  readonly at: Instant;
  readonly entry: string;
}

/** What else ran, each programme once. */
export function othersOver({ meanwhile }: Parts, { rates }: Turns): Other[] {
  const others = new Map<string, Other>();
  for (const { delivery, waited } of meanwhile) {
    const { channel, role, programme, start } = delivery;
    const entry = starterOf(programme);
    if (others.has(entry)) continue;
    const began = rates.find((one) => one.channel === channel && one.startedBy === entry);
    others.set(entry, { channel, role, waited, at: began?.at ?? start, entry });
  }
  return [...others.values()];
}

/** A channel came to run no more, for a while or for good. */
export interface Held extends StandTurn {
  readonly is: Exclude<Standing, "delivering">;
}

/** What held the channels of a row over a period in which none of them ran; what never ran was not held. */
export function heldOver({ start, end }: Period, { stands }: Turns, channels: ReadonlySet<string>): Held[] {
  return [...channels].flatMap((channel) => {
    const own = stands.filter((one) => one.channel === channel);
    const inForce = own.findLast(({ at }) => at <= start);
    const since = own.filter(({ at }) => start < at && at < end);
    return [...(inForce === undefined ? [] : [inForce]), ...since].filter(isHold);
  });
}

function isHold(turn: StandTurn): turn is Held {
  return turn.is !== "delivering" && !(turn.is === "ended" && turn.was === "disconnected");
}
