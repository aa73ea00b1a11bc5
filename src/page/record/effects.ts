/** What recording would do, in sentences: which figures become which, what runs then, what is settled or left open. */

import type { ChannelTotals, DryRun, Effect } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import type { Speech } from "../words/speech.js";
import { clock, moment } from "../words/wall.js";

/** A sentence; one of the service's own is English. */
export interface Told {
  readonly text: string;
  readonly byService?: string;
}

export function effectsOf(would: DryRun, sheet: ShiftSheet, speech: Speech): Told[] {
  return [...figuresOf(would, sheet, speech), ...runningOf(would, sheet, speech), ...foundOf(would, speech)];
}

function figuresOf({ effects }: DryRun, { shift }: ShiftSheet, speech: Speech): Told[] {
  const rows = new Map<string, Effect[]>();
  for (const effect of effects) {
    const key = effect.row.balance ?? `line ${effect.row.line}`;
    rows.set(key, [...(rows.get(key) ?? []), effect]);
  }
  const inside = ({ start }: Effect) =>
    moment(start) >= moment(shift.start) && moment(start) < moment(shift.end);
  return [...rows.values()].flatMap((all) => {
    const [here, elsewhere] = [all.filter(inside), all.filter((one) => !inside(one))];
    const told = here.length > 1 ? [overShift(here, shift, speech)] : here.map((one) => ofOne(one, speech));
    return [...told, ...elsewhere.map((one) => ofOne(one, speech))];
  });
}

function ofOne(effect: Effect, speech: Speech): Told {
  const { words, volume, clockSeenFrom } = speech;
  const interval = `${clockSeenFrom(effect.start, effect.end)}–${clock(effect.end)}`;
  return {
    text: words.record.effect.one(
      rowName(effect, speech),
      interval,
      volume(effect.before ?? 0),
      volume(effect.after ?? 0),
    ),
  };
}

/** Several hours of one row: the shift before and after, as the table will show it. */
function overShift(effects: readonly Effect[], shift: ShiftSheet["shift"], speech: Speech): Told {
  const [first] = effects;
  const before = totalOf(first!, shift);
  const moved = effects.reduce((sum, one) => sum + (one.after ?? 0) - (one.before ?? 0), 0);
  const after = Math.round((before + moved) * 1000) / 1000;
  const { words, volume } = speech;
  return { text: words.record.effect.shift(rowName(first!, speech), volume(before), volume(after)) };
}

function totalOf({ row }: Effect, { volumes, balance }: ShiftSheet["shift"]): number {
  if (row.balance === "net") return balance.netTotal;
  if (row.balance !== undefined)
    return balance.output.rows.find(({ key }) => key === row.balance)?.total ?? 0;
  return volumes.rows.find(({ key }) => key === row.line)?.total ?? 0;
}

function rowName({ row }: Effect, { words }: Speech): string {
  if (row.balance === "net") return words.balance.net;
  if (row.balance !== undefined) return words.categories[row.balance];
  return row.line === null ? words.record.effect.byNoLine : row.label;
}

/** Channels that would give something else than they do. */
function runningOf({ totals }: DryRun, { shift }: ShiftSheet, speech: Speech): Told[] {
  // What is answered is as of now, what is shown of a shift that is over is as of its end.
  if (moment(shift.until) >= moment(shift.end)) return [];
  return totals.flatMap((after): Told[] => {
    const before = shift.totals.channels.find(({ channel }) => channel === after.channel);
    if (sameFlow(before, after)) return [];
    return [{ text: runsThen(after, speech) }];
  });
}

function sameFlow(before: ChannelTotals | undefined, { flow }: ChannelTotals): boolean {
  const was = before?.flow ?? null;
  if (was === null || flow === null) return was === flow;
  return was.rate === flow.rate && was.role === flow.role && was.bag === flow.bag;
}

function runsThen({ channel, flow }: ChannelTotals, { words, rate, clockSeenFrom }: Speech): string {
  const { effect } = words.record;
  if (flow === null) return effect.rests(channel);
  const speed = flow.rate === null ? words.lines.rateUnknown : rate(flow.rate);
  const role = flow.role === "primary" ? "" : `, ${words.roles[flow.role]}`;
  const at = (instant: string) => clockSeenFrom(instant, flow.emptyAt ?? instant);
  const ends =
    flow.endsAt !== null && flow.endsAt !== flow.emptyAt ? `, ${effect.ends(at(flow.endsAt))}` : "";
  const empty = flow.emptyAt === null ? "" : `, ${effect.empty(clock(flow.emptyAt))}`;
  return `${effect.runs(channel, speed)}${role}${ends}${empty}`;
}

function foundOf({ findings }: DryRun, { words }: Speech): Told[] {
  return findings.flatMap(({ state, code, sentence }): Told[] => {
    if (state === "acknowledged") return [];
    if (state === "settled") return [{ text: words.record.effect.settles(words.findings[code]) }];
    return [{ text: words.record.effect.raises(words.findings[code]), byService: sentence }];
  });
}
