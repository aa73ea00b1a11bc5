/** What hanging, taking down and adjusting bags does (the bag rows of the course table). */

import type { Instant } from "../time/instant.js";
import { withoutSource } from "./advance.js";
import { resolvedAnew } from "./bag-limits.js";
import { mustBeKnown } from "./connection-steps.js";
import { contentsAdjusted, contentsAt, contentsFound, contentsHung } from "./contents.js";
import { bagWith, channelWith } from "./copies.js";
import type { BagAdjusted, BagHung, BagLevelRead, BagTakenDown, LevelMethod } from "./entry.js";
import { foundWith, holdsAsRead, NOTHING_FOUND } from "./found-later.js";
import { NOTHING, plus, thousandths, type Volume, volumeOf } from "./quantity.js";
import { type Bag, type Channel, delivering, type ShelvedBag } from "./state.js";
import { comeTo, evident, type Step, withoutEffect } from "./step.js";

/**
 * That role's bag from now on. A running flow goes on at its rate, an ended one is not restarted. A key
 * hung before is the same bag with what it holds, unless the entry says what remains.
 */
export function hang(run: Step, entry: BagHung): void {
  const { draft } = run;
  const before = draft.bag(entry.bag);
  const label = volumeOf(entry.volume);
  const stays = before !== undefined && before.channel === entry.channel && before.role === entry.role;
  if (before !== undefined && !stays) {
    const elsewhere = comeTo(run, before.channel);
    const unhooked = draft.put(unhook(elsewhere, draft.bag(entry.bag)!, run.at));
    if (unhooked.endedByTakingDown === run.at) {
      withoutEffect(
        run,
        before.channel,
        `the channel ${before.channel} was still running from this bag, and ends`,
      );
    }
  }
  const known = draft.bag(entry.bag) ?? draft.shelved(entry.bag);
  const holds = entry.remaining === undefined ? (known?.holds ?? label) : volumeOf(entry.remaining);
  const bag: Bag = {
    bag: entry.bag,
    fluid: entry.fluid,
    label,
    contents: contentsHung(known, { additives: entry.additives, label }, holds),
    holds,
    found: entry.remaining === undefined ? (known?.found ?? NOTHING_FOUND) : NOTHING_FOUND,
    mark: stays && entry.remaining === undefined ? draft.bag(entry.bag)!.mark : markHere(run),
    overfill: thousandths(label, run.settingsAt(run.at).overfillAllowance),
    channel: entry.channel,
    role: entry.role,
  };
  draft.hang(bag);
  draft.unshelve(entry.bag);
  const channel = draft.channel(entry.channel)!;
  const hook = entry.role === "primary" ? "primaryBag" : "secondaryBag";
  const replaced = draft.bag(channel[hook]);
  if (replaced !== undefined && replaced.bag !== entry.bag)
    draft.shelve(replaced.bag, down(replaced, run.at));
  draft.put(resolvedAnew(channelWith(channel, { [hook]: entry.bag }), bag));
  mustBeKnown(run, entry.channel);
  if (channel.endedByTakingDown === run.at) {
    const why = "taking down the last bag in this minute ended the flow, and hanging one does not start it";
    withoutEffect(run, entry.channel, why);
  }
}

/** What the bag fed ends; a level given with it is what it holds from then on. */
export function takeDown(run: Step, entry: BagTakenDown): void {
  const { draft } = run;
  const hanging = draft.bag(entry.bag);
  const level = entry.remaining === undefined ? undefined : volumeOf(entry.remaining);
  if (hanging === undefined) {
    const shelved = draft.shelved(entry.bag);
    if (shelved !== undefined && level !== undefined) {
      return draft.shelve(entry.bag, down(withLevel(shelved, level), run.at));
    }
    return withoutEffect(run, null, `the bag ${entry.bag} was not hanging`);
  }
  const channel = comeTo(run, hanging.channel);
  const bag = draft.bag(entry.bag)!;
  if (level === undefined) run.sink.gone(evident(run, channel, content(bag)));
  else judgeLevel(run, channel, bag, level, entry.method);
  draft.put(unhook(channel, bag, run.at));
  draft.shelve(entry.bag, down(leftIn(channel, bag, level), run.at));
}

/** Contents only: no volume is delivered by priming a set or adding a drug. */
export function adjust(run: Step, entry: BagAdjusted): void {
  const { draft } = run;
  const change = volumeOf(entry.volume);
  const hanging = draft.bag(entry.bag);
  if (hanging !== undefined) {
    comeTo(run, hanging.channel);
    const bag = draft.bag(entry.bag)!;
    const holds = plus(bag.holds, change);
    if (holds < NOTHING && bag.holds >= NOTHING) noteOverdrawn(run, bag);
    return draft.hang(bagWith(bag, { holds, contents: adjusted(bag, change) }));
  }
  const shelved = draft.shelved(entry.bag);
  if (shelved === undefined) return withoutEffect(run, null, `the bag ${entry.bag} was not hung yet`);
  const holds = plus(shelved.holds, change);
  draft.shelve(entry.bag, { ...shelved, holds, contents: adjusted(shelved, change), since: run.at });
}

function noteOverdrawn(run: Step, { bag, channel }: Bag): void {
  const why = `more was taken out of the bag ${bag} than it was said to hold`;
  run.sink.note({ code: "bag-overdrawn", at: run.at, entry: run.id, channel, bag, why });
}

/**
 * A level confirms that the channel has stopped. On a gravity set, which counts nothing, it is what was
 * delivered, and what the bag holds from then on, or from the end of what was signed before it was recorded;
 * elsewhere it is compared and moves nothing.
 */
export function readLevel(run: Step, entry: BagLevelRead): void {
  const { draft } = run;
  const hanging = draft.bag(entry.bag);
  if (hanging === undefined) {
    if (draft.shelved(entry.bag) === undefined) {
      withoutEffect(run, null, `the bag ${entry.bag} was not hung yet`);
    }
    return;
  }
  const channel = comeTo(run, hanging.channel);
  const bag = draft.bag(entry.bag)!;
  const level = volumeOf(entry.remaining);
  judgeLevel(run, channel, bag, level, entry.method);
  if (channel.type !== "gravity") return;
  const { countsFrom } = entry;
  const held =
    countsFrom === undefined || countsFrom <= run.at
      ? leftIn(channel, bag, level)
      : { found: foundWith(bag, level, countsFrom) };
  const read = bagWith(bag, { ...held, mark: markHere(run) });
  draft.hang(read);
  draft.put(resolvedAnew(channel, read));
}

function judgeLevel(run: Step, channel: Channel, bag: Bag, level: Volume, method?: LevelMethod): void {
  run.sink.level(
    evident(run, channel, {
      ...content(bag),
      level,
      method: method ?? "estimate",
      over: bag.mark,
      anchors: channel.type === "gravity",
    }),
  );
}

function content(bag: Bag) {
  return { bag: bag.bag, expected: holdsAsRead(bag), label: bag.label };
}

type Held = Pick<Bag, "holds" | "found" | "contents">;

/** A bag that hangs no longer. */
function down({ holds, found, contents }: Held, since: Instant): ShelvedBag {
  return { holds, found, contents, since };
}

/**
 * What a level leaves in a bag. On a gravity set it says what was delivered, which took its drug along; elsewhere
 * what was delivered stays as it was computed.
 */
function leftIn({ type }: Channel, bag: Held, level: Volume | undefined): Held {
  if (level === undefined) return bag;
  if (type !== "gravity" || bag.contents === null) return withLevel(bag, level);
  return { holds: level, found: NOTHING_FOUND, contents: contentsAt(level, bag.contents) };
}

function withLevel({ holds, contents }: Held, level: Volume): Held {
  return {
    holds: level,
    found: NOTHING_FOUND,
    contents: contents === null ? null : contentsFound(contents, holds, level),
  };
}

function adjusted({ holds, contents }: Held, change: Volume): Bag["contents"] {
  return contents === null ? null : contentsAdjusted(contents, holds, change);
}

/** What a bag holds is known here. */
function markHere({ id, at }: Step): Bag["mark"] {
  return { entry: id, from: at, since: NOTHING, atLeast: false };
}

/** The channel without a bag that hung on it: what it fed is over. */
function unhook(channel: Channel, bag: Bag, at: Instant): Channel {
  const over = withoutBag(channel, bag);
  const ended = delivering(channel) !== null && delivering(over) === null;
  return ended ? channelWith(over, { endedByTakingDown: at }) : over;
}

function withoutBag(channel: Channel, bag: Bag): Channel {
  if (bag.role === "secondary") {
    const over = channel.secondary === null ? channel : withoutSource(channel, "secondary");
    return channelWith(over, { secondaryBag: null });
  }
  let over = channel;
  if (over.bolus !== null) over = withoutSource(over, "bolus");
  if (over.secondary !== null && over.secondaryBag === null) over = withoutSource(over, "secondary");
  const hold = over.secondary === null ? "none" : over.hold;
  return channelWith(over, { primary: null, hold, primaryBag: null });
}
