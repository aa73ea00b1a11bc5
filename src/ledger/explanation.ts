/**
 * Why a figure is what it is: the deliveries, readings and entries that one volume is made of, in a
 * sentence and as data. The figure explained is the one that the volumes of that interval show.
 */

import { stepOf } from "../conventions/settings.js";
import type { Words } from "../findings/finding.js";
import { amountOf } from "../infusion/amount.js";
import type { Anchor } from "../infusion/anchor.js";
import { computedOf, type Delivery, givenBy, type Unattributed } from "../infusion/delivery.js";
import { amountHeading, type Grouping, headingOf, unattributedHeading } from "../infusion/headings.js";
import { minus } from "../infusion/quantity.js";
import { type Amount, type VolumeRow, volumeRows } from "../infusion/volumes.js";
import type { Inquiry } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { earliest, latest, type Period } from "../time/instant.js";
import { shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";
import { chainOf } from "./acknowledgements.js";
import { anchorText } from "./anchor-text.js";
import { intakesOf } from "./answers.js";
import { type Coordinates, coordinates, written } from "./coordinates.js";
import { unattributedText, volumeText } from "./flow-text.js";
import { labelsOf } from "./labels.js";
import type { Asked, PeriodAsked } from "./ledger.js";
import { intervalsOf, periodOf } from "./period.js";
import { done, type Outcome, refused } from "./refusal.js";
import { type Window, windowOf } from "./window.js";
import { wordsAt } from "./words.js";

export interface ExplanationQuery extends Asked {
  readonly period: PeriodAsked;
  readonly per: Grouping;
  /** The key of the row; null for what has none. */
  readonly row: string | null;
}

export function* explanation(
  encounter: string,
  query: ExplanationQuery,
  now: Instant,
): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const at = resolved.done;
  const { stretches } = at.facts.conventions;
  const period = periodOf(query.period, stretches);
  if (period.refused) return period;
  const divided = intervalsOf(period.done, "whole", stretches);
  if (divided.refused) return divided;
  const made = yield* madeOf(at, period.done, divided.done.anchors, query);
  if (made === undefined) {
    const detail = "In this period there is no such row.";
    return refused({ problem: "bad-parameter", errors: [{ parameter: "row", code: "unknown-key", detail }] });
  }
  const { zone } = shiftAt(stretches, period.done.start);
  return done({
    zone,
    from: formatInstant(period.done.start, zone),
    to: formatInstant(period.done.end, zone),
    ...written(at),
    ...made,
  });
}

/** What a row of a period consists of. */
interface Parts {
  readonly deliveries: readonly Delivery[];
  readonly unattributed: readonly Unattributed[];
  readonly amounts: readonly Amount[];
  readonly anchors: readonly Anchor[];
}

function* madeOf(at: Coordinates, period: Period, anchors: readonly Instant[], query: ExplanationQuery) {
  const { known, until, facts } = at;
  const { settingsAt, stretches, stretchAt } = facts.conventions;
  const span = { from: anchors[0]!, to: period.end, until };
  const window = yield* windowOf(known, span, { settingsAt });
  const amounts = intakesOf(window.entries).flatMap((one) => amountOf(one, settingsAt(one.entry.at)) ?? []);
  const rows = volumeRows(
    { ...window, amounts },
    {
      intervals: [period],
      anchors,
      until,
      admittedAt: facts.admittedAt,
      stepOf: (shift) => settingsAt(shift).precision ?? stepOf(100),
      per: query.per,
    },
  ).filter(({ key }) => key === query.row);
  if (rows.length === 0) return undefined;
  const end = earliest(period.end, until);
  const parts = partsOf(window, amounts, { start: period.start, end }, query);
  const [label] = yield* labelsOf(known, query.per, rows);
  const { zone } = shiftAt(stretches, period.start);
  const volume = rows.reduce((sum, { total }) => sum + total, 0);
  const computed = rows.reduce((sum, row) => sum + (row.computed[0] ?? 0), 0);
  const words = wordsAt(until, (instant) => stretchAt(instant).zone);
  return {
    row: { per: query.per, key: query.row, label: label! },
    volume: millilitres(volume),
    computed: millilitres(computed),
    basis: weakest(rows),
    unknown: rows.reduce((minutes, { unknown }) => minutes + (unknown[0] ?? 0), 0) / 60_000,
    sentence: sentenceOf(label!, volume, { start: period.start, end }, parts, rows, words),
    deliveries: parts.deliveries.map((delivery) => deliveryText(delivery, period.start, end, zone)),
    unattributed: parts.unattributed.map((amount) => unattributedText(amount, zone)),
    amounts: parts.amounts.map(({ entry, at, category, volume }) => ({
      entry,
      at: formatInstant(at, zone),
      category,
      volume: volumeText(volume),
    })),
    readings: parts.anchors.map((anchor) => anchorText(anchor, zone)),
    entries: entriesOf(window, parts, { start: period.start, end }),
  };
}

function weakest(rows: readonly VolumeRow[]): string | null {
  const order = ["measured", "apportioned", "computed", "disputed", "unknown"];
  const bases = rows.flatMap(({ bases }) => bases[0] ?? []);
  return order.findLast((basis) => bases.some((one) => one === basis)) ?? null;
}

function partsOf(
  window: Window,
  amounts: readonly Amount[],
  { start, end }: Period,
  { per, row }: ExplanationQuery,
): Parts {
  const deliveries = window.deliveries.filter(
    (one) => one.start < end && one.end > start && headingOf(one, per).key === row,
  );
  const inIt = ({ at }: { at: Instant }) => start < at && at <= end;
  const unattributed = window.unattributed.filter(
    (one) => inIt(one) && unattributedHeading(one, per).key === row,
  );
  const read = new Set([
    ...deliveries.map(({ anchor }) => anchor),
    ...unattributed.map(({ entry }) => entry),
  ]);
  return {
    deliveries,
    unattributed,
    amounts: amounts.filter((one) => inIt(one) && amountHeading(one, per).key === row),
    anchors: window.anchors.filter(({ entry }) => read.has(entry)),
  };
}

function deliveryText(delivery: Delivery, from: Instant, to: Instant, zone: string) {
  const [start, end] = [latest(delivery.start, from), earliest(delivery.end, to)];
  return {
    channel: delivery.channel,
    line: delivery.line,
    bag: delivery.bag,
    role: delivery.role,
    start: formatInstant(start, zone),
    end: formatInstant(end, zone),
    rate: millilitres(delivery.rate),
    computed: volumeText(minus(computedOf(delivery, end), computedOf(delivery, start))),
    volume: volumeText(minus(givenBy(delivery, end), givenBy(delivery, start))),
    basis: delivery.basis,
    reading: delivery.anchor,
    startedBy: startedBy(delivery),
  };
}

/** The entry that started a programme. */
function startedBy({ programme }: Delivery): string {
  return programme.split("/")[0]!;
}

/** What made it so: what started each flow, what was charted about its channel meanwhile, what was read. */
function entriesOf(window: Window, parts: Parts, { start, end }: Period): string[] {
  const channels = new Set(parts.deliveries.map(({ channel }) => channel));
  const meanwhile = window.entries.filter(({ placed: { entry } }) => {
    return "channel" in entry && channels.has(entry.channel) && start <= entry.at && entry.at <= end;
  });
  const ids = [
    ...parts.deliveries.map(startedBy),
    ...meanwhile.map(({ placed }) => placed.id),
    ...parts.amounts.map(({ entry }) => entry),
    ...parts.anchors.flatMap(({ over, entry }) => [over, entry]),
  ];
  return [...new Set(ids)];
}

function sentenceOf(
  label: string,
  volume: number,
  { start, end }: Period,
  { deliveries, unattributed, amounts, anchors }: Parts,
  rows: readonly VolumeRow[],
  words: Words,
): string {
  const shown = `${millilitres(volume)} mL`;
  const flows = runsOf(deliveries, { start, end }).map(
    ({ rate, lasts }) => `${words.duration(lasts)} at ${words.rate(rate)}`,
  );
  const minutes = rows.reduce((sum, { unknown }) => sum + (unknown[0] ?? 0), 0);
  const clauses = [
    ...(flows.length === 0 ? [] : [`it ran ${listed(flows)}`]),
    ...anchors.map((anchor) => anchorClause(anchor, words)),
    ...unattributed.map(
      ({ volume }) => `${words.volume(volume)} of what was read fits no flow and stands at the reading`,
    ),
    ...(amounts.length === 0
      ? []
      : [`${amounts.length} measured ${amounts.length === 1 ? "amount" : "amounts"}`]),
    ...(minutes === 0 ? [] : [`of ${words.duration(minutes)} nobody knows, so it is the least it can be`]),
  ];
  const why = clauses.length === 0 ? "nothing was charted" : clauses.join("; ");
  return `${label}, ${words.time(start)} to ${words.time(end)}: ${shown}, since ${why}.`;
}

/** How long it ran at which rate, as one where only a reading lies between. */
function runsOf(deliveries: readonly Delivery[], { start, end }: Period) {
  const runs: { rate: Delivery["rate"]; lasts: number; until: Instant; channel: string }[] = [];
  for (const delivery of deliveries) {
    const [from, until] = [latest(delivery.start, start), earliest(delivery.end, end)];
    const { rate, channel } = delivery;
    const before = runs.at(-1);
    if (before?.channel === channel && before.rate === rate && before.until === from) {
      runs[runs.length - 1] = { ...before, lasts: before.lasts + (until - from), until };
    } else runs.push({ rate, lasts: until - from, until, channel });
  }
  return runs;
}

function anchorClause({ kind, delivered, computed, from, to, basis }: Anchor, words: Words): string {
  if (delivered === null) return `the reading at ${words.time(to)} leaves it in doubt`;
  const what = kind === "level" ? "the level" : kind === "segment" ? "the device's segment" : "the reading";
  const said = `${what} at ${words.time(to)} says ${words.volume(delivered)} since ${words.time(from)}`;
  const against = computed === null ? "" : ` where ${words.volume(computed)} were computed`;
  return `${said}${against}${basis === "disputed" ? ", which is in dispute" : ""}`;
}

function listed(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}
