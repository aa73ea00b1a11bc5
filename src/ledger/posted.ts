/**
 * What counts in the intervals of a period, as postings: what the balance sums up, and what a chart is
 * reconciled with. Both are made here, so that neither can know what the other does not.
 */

import { awayByEntry } from "../balance/away.js";
import { allGivenBack } from "../balance/charted.js";
import { counted } from "../balance/counted.js";
import { groundOf } from "../balance/ground.js";
import { intakePostings, type TakenIn } from "../balance/intake.js";
import type { Irrigated } from "../balance/irrigation.js";
import type { Loss } from "../balance/lost.js";
import { outputPostings } from "../balance/output.js";
import type { Posting } from "../balance/posting.js";
import { stepOf } from "../conventions/settings.js";
import type { DeliveryLost, Placed } from "../infusion/entry.js";
import type { SettingsAt } from "../infusion/step.js";
import { ask, type Inquiry } from "../store/store.js";
import { earliest, type Instant, later, latest, type Period } from "../time/instant.js";
import { shiftsIn } from "../time/shifts.js";
import type { Moment } from "./coordinates.js";
import { courseOf } from "./course.js";
import { countingOf, merged, placedOf } from "./families.js";
import { countingBetween, type Known } from "./replay.js";
import { BEFORE_ADMISSION } from "./sense.js";
import type { StayFacts } from "./stay.js";
import { type Window, windowOf } from "./window.js";

export interface PostedAsked {
  /** Ascending, not overlapping; what lies between two of them is in none. */
  readonly intervals: readonly Period[];
  /** From when on postings are made, not after the first interval: before that interval they have none. */
  readonly from: Instant;
  /** How far back is looked for what reaches into them; absent, to the beginning of the stay. */
  readonly lookBack?: Instant | undefined;
  /** Before when nothing is inside the cumulative figures. */
  readonly since: Instant;
  /** Whole microlitres; absent, what the unit has set. */
  readonly precision?: number | undefined;
}

export interface Posted {
  readonly postings: Posting[];
  readonly losses: readonly Loss[];
  readonly irrigated: Irrigated;
  readonly amounts: TakenIn["amounts"];
  readonly window: Window;
  /** What counts since the stay began, up to the end, in order. */
  readonly entries: readonly Placed[];
  /** The end of the last interval, or how far the answer has come. */
  readonly end: Instant;
}

/** Just before anything of a stay may have happened: an amount at that very instant belongs to what ends there. */
export function beginningOf({ admittedAt }: StayFacts): Instant {
  return later(admittedAt, -BEFORE_ADMISSION - 1);
}

/** The postings of intervals, as they are known and as far as they have come. */
export function* postedOver(at: Moment, asked: PostedAsked): Inquiry<Posted> {
  const { known, until, facts } = at;
  const { admittedAt, conventions } = facts;
  const { settingsAt, stretches } = conventions;
  const { intervals, from, since } = asked;
  const to = intervals.at(-1)!.end;
  const anchors = shiftsIn(stretches, { start: from, end: to }).map(({ start }) => start);
  const end = latest(from, earliest(to, until));
  // Where the patient was and which lines irrigate may be told of before.
  const early = earliest(asked.lookBack ?? beginningOf(facts), anchors[0]!);
  const before = [
    ...(asked.lookBack === undefined ? [] : yield* irrigatingAt(known, early, settingsAt)),
    ...(yield* countingBetween(known, early, anchors[0]!)).map(({ placed }) => placed),
  ];
  // What stands at a site since it was last emptied comes off when it is emptied next.
  const start = before.some(irrigates) ? early : anchors[0]!;
  const { window, lost } = yield* wholeOf(at, start, end);
  const entries = [
    ...before.filter(({ entry }) => entry.at < start),
    ...window.entries.map(({ placed }) => placed),
  ].filter(({ entry }) => entry.at <= end);
  const given = asked.precision === undefined ? undefined : stepOf(asked.precision);
  const ground = groundOf({
    intervals,
    anchors,
    until,
    admittedAt,
    since,
    stepOf: (shift) => given ?? settingsAt(shift).precision,
    settingsAt,
    changes: conventions.settingsIn({ start: from, end: to }).map(({ start }) => start),
    awayOf: awayByEntry(entries),
  });
  const came = window.collected.outputs.filter((output) => output.at <= end);
  const { taken, losses, irrigated } = counted({ ...window, entries, lost, came, settingsAt });
  const back = allGivenBack(entries, settingsAt);
  const postings = [...intakePostings(taken, ground), ...outputPostings(irrigated.outputs, ground, back)];
  return { postings, losses, irrigated, window, amounts: taken.amounts, entries, end };
}

/** The lines that irrigate at an instant, as they were placed. */
function* irrigatingAt(known: Known, at: Instant, settingsAt: SettingsAt): Inquiry<Placed[]> {
  const { before } = yield* courseOf(known, { start: at, end: at }, settingsAt);
  const keys = [...before.irrigating].map((line) => `line:${line}`);
  if (keys.length === 0) return [];
  const stored = yield* ask({ ask: "declares", chain: known.chain, keys });
  const rows = merged(
    stored.filter(({ sequence }) => sequence <= known.upTo),
    known.staged,
  );
  const placed = countingOf(rows).flatMap((one) => placedOf(one) ?? []);
  return placed.filter(({ entry }) => entry.kind === "line-placed" && entry.at < at);
}

/** The course of a period, and on to the end of every loss that it has a part of. */
function* wholeOf(at: Moment, from: Instant, end: Instant) {
  const { known, until, facts } = at;
  const after = end < until ? yield* countingBetween(known, later(end, 1), later(until, 1)) : [];
  const charted = after.map(({ placed }) => placed).filter(isLost);
  const latelyLost = charted.filter(({ entry }) => entry.from < end);
  const to = latest(end, ...latelyLost.map(({ entry }) => earliest(entry.to, until)));
  let window: Window = yield* windowOf(known, { from, to, until }, facts.conventions.settingsAt);
  const own = window.entries.map(({ placed }) => placed).filter(isLost);
  // A loss that was charted in the period may reach beyond its end as well.
  const further = latest(to, ...own.map(({ entry }) => earliest(entry.to, until)));
  if (further > to)
    window = yield* windowOf(known, { from, to: further, until }, facts.conventions.settingsAt);
  const lost = new Map([...own, ...latelyLost].map((placed) => [placed.id, placed]));
  return { window, lost: [...lost.values()] };
}

/** Whether an entry puts irrigant in, or may. */
function irrigates({ entry }: Placed): boolean {
  return (
    entry.kind === "irrigant-instilled" || (entry.kind === "line-placed" && entry.route === "irrigation")
  );
}

function isLost(placed: Placed): placed is Placed<DeliveryLost> {
  return placed.entry.kind === "delivery-lost";
}
