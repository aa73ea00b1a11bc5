/**
 * Writing down what devices show: the totals of one channel, the one that was asked about first, or every total that
 * nobody has written down, in one go.
 */

import type { ChannelTotals, Posted, RunningTotal, TotalName } from "../../api/shapes.js";
import { clock } from "../../words/wall.js";
import type { Form, NumberAsked } from "../form.js";
import { type Asking, channelNamed, volumeField } from "./asking.js";

interface Counter {
  readonly channel: ChannelTotals;
  readonly total: RunningTotal;
}

/** The totals of a channel, else the one with most to lose first. */
export function readingForm(asking: Asking, channel: string, first: TotalName | null): Form {
  const { words } = asking.speech;
  const found = channelNamed(asking, channel);
  const counters = (found?.totals ?? [])
    .map((total) => ({ channel: found!, total }))
    .sort(
      (a, b) =>
        Number(b.total.total === first) - Number(a.total.total === first) || b.total.atRisk - a.total.atRisk,
    );
  return {
    title: words.record.titles.reading(channel),
    told: words.record.readOff,
    initial: {},
    timed: true,
    fields: () =>
      counters.map((counter, index) =>
        field(asking, counter, words.toWrite.totals[counter.total.total], index > 0),
      ),
    entries: (entered, at) => readings(counters, entered.number, at),
  };
}

/** Every total with something that nobody has written down, the largest first. */
export function readingsForm(asking: Asking): Form {
  const { words } = asking.speech;
  const counters = countersOpen(asking.sheet.shift.totals.channels);
  const name = ({ channel, total }: Counter) => `${channel.channel}, ${words.toWrite.totals[total.total]}`;
  return {
    title: words.record.writeDownAll,
    told: words.record.readOffAll,
    initial: {},
    timed: true,
    fields: () =>
      counters.map((counter) => ({ ...field(asking, counter, name(counter), true), quiet: true })),
    entries: (entered, at) => readings(counters, entered.number, at),
  };
}

/** The totals with something that nobody has written down, the largest first. */
export function countersOpen(channels: readonly ChannelTotals[]): Counter[] {
  return channels
    .flatMap((channel) => channel.totals.map((total) => ({ channel, total })))
    .filter(({ total }) => total.atRisk > 0 || total.atLeast || total.waiting !== undefined)
    .sort((a, b) => b.total.atRisk - a.total.atRisk);
}

function keyOf({ channel, total }: Counter): string {
  return `${channel.channel} ${total.total}`;
}

function field({ sheet, speech }: Asking, counter: Counter, label: string, optional: boolean): NumberAsked {
  const { words, inTenths } = speech;
  const { expected, lastReading } = counter.total;
  const should = words.record.shouldShowAt(inTenths(expected), clock(sheet.shift.totals.at));
  const last = lastReading === null ? "" : words.toWrite.last(inTenths(lastReading));
  const hint = [should, last].filter(Boolean).join(". ");
  return volumeField({ key: keyOf(counter), label, hint, zero: true, optional });
}

/** What was read, as entries; null where nothing was. */
function readings(
  counters: readonly Counter[],
  read: (key: string) => number | null,
  at: string,
): Posted[] | null {
  const entries = counters.flatMap((counter): Posted[] => {
    const volume = read(keyOf(counter));
    const { channel } = counter.channel;
    return volume === null ? [] : [{ kind: "total-read", at, channel, total: counter.total.total, volume }];
  });
  return entries.length === 0 ? null : entries;
}
