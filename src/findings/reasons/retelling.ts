/**
 * The course told again with what a reason proposes. A reason is found by adding to what was computed;
 * whether its entries would settle the reading only the fold can say, since a bag may be empty, something
 * charted may cut short what is proposed, and an entry has a rank at its instant.
 *
 * The other readings of the channel have their say too: what makes one of them disagree that agreed is no
 * reason, and what leaves others unexplained takes a second fault.
 *
 * Invariant: a reason is shown only if the reading, with its proposals recorded, agrees, and none of the
 * others is further off than it was.
 */

import { followAll } from "../../infusion/course.js";
import type { Placed } from "../../infusion/entry.js";
import type { TotalJudged } from "../../infusion/evidence.js";
import { NOWHERE, type Sink } from "../../infusion/flow.js";
import { inOrder } from "../../infusion/order.js";
import { plus } from "../../infusion/quantity.js";
import type { State } from "../../infusion/state.js";
import type { SettingsAt } from "../../infusion/step.js";
import { DAY } from "../../time/calendar.js";
import { earliest, HOUR, type Instant, later, latest } from "../../time/instant.js";
import type { Proposal } from "../finding.js";
import { onceOf } from "../lookup.js";

/** What is told again: everything that counts from the mark that a reading was judged over. */
export interface Retelling {
  /** At the mark, before any entry at that instant. */
  readonly from: State;
  /** What counts from the mark as far as `worthTelling` says, the reading itself and what is charted after it included. */
  readonly entries: readonly Placed[];
  readonly settingsAt: SettingsAt;
}

/** The furthest that a charted time is taken to be off. */
export const LONGEST_LAPSE = HOUR;

/** How many readings after the one in question have their say in what explains it, and for how long. */
const LATER_READINGS = 4;
const LATER = DAY;

type InQuestion = Pick<TotalJudged, "entry" | "at" | "channel" | "total">;

/** How far a reading may be moved: nothing can have happened yet that is later than now. */
export function toldUpTo({ at }: Pick<InQuestion, "at">, now: Instant): Instant {
  return latest(at, earliest(now, later(at, LONGEST_LAPSE)));
}

/** The last instant up to which anything charted can matter to a retelling. */
export function mattersUpTo({ at }: Pick<InQuestion, "at">, now: Instant): Instant {
  return latest(at, earliest(now, later(at, LATER)));
}

/** What is worth telling again, of entries in order: up to the last of the later readings that have their say. */
export function worthTelling(entries: readonly Placed[], reading: InQuestion, now: Instant): Placed[] {
  const { entry: id, at, channel, total } = reading;
  const last = entries.filter(
    ({ id: other, entry }) =>
      other !== id &&
      entry.kind === "total-read" &&
      entry.at >= at &&
      entry.channel === channel &&
      entry.total === total,
  )[LATER_READINGS - 1];
  const end = latest(toldUpTo(reading, now), last?.entry.at ?? mattersUpTo(reading, now));
  return entries.filter(({ entry }) => entry.at <= end);
}

/** What a reading in question comes to with what is proposed, and what the other readings of its channel do. */
export interface Retold {
  /** The reading as it is judged then; undefined where it is no reading of that channel's totals any more. */
  readonly judged: TotalJudged | undefined;
  /** Whether it agrees then. */
  readonly settles: boolean;
  /** How many of the other readings ask something then. */
  readonly open: number;
  /** Whether one of the others disagrees then that agreed before, or is further off than it was. */
  readonly refuted: boolean;
}

/** The course with what is proposed recorded. */
export function retold(reading: InQuestion, retelling: Retelling, proposals: readonly Proposal[]): Retold {
  const before = asItIs(retelling);
  const after = readingsOf(retelling, proposals);
  const judged = after.find(({ entry }) => entry === reading.entry);
  const others = openOf(after).filter(({ entry, channel }) => {
    return entry !== reading.entry && (channel === reading.channel || channel === judged?.channel);
  });
  return {
    judged,
    settles: judged?.outcome === "agrees",
    open: others.length,
    refuted: others.some((other) => isFurtherOff(other, before)),
  };
}

/** The readings as they were judged, whatever is proposed; those that ask nothing any more are not among `open`. */
export const asItIs = onceOf((retelling: Retelling) => {
  const all = readingsOf(retelling, []);
  return { all, open: new Map(openOf(all).map((reading) => [reading.entry, reading])) };
});

function isFurtherOff({ entry, comparison }: TotalJudged, { open }: ReturnType<typeof asItIs>): boolean {
  const before = open.get(entry);
  return before === undefined || comparison.gap > plus(before.comparison.gap, comparison.tolerance);
}

/** The readings that disagree, that nobody decided about, and that no later one set aside. */
function openOf(readings: readonly TotalJudged[]): TotalJudged[] {
  const setAside = new Set(readings.map((reading) => reading.setsAside));
  return readings.filter(({ entry, outcome }) => {
    return (outcome === "disputed" || outcome === "waits" || outcome === "follows") && !setAside.has(entry);
  });
}

function readingsOf(
  { from, entries, settingsAt }: Retelling,
  proposals: readonly Proposal[],
): readonly TotalJudged[] {
  const readings: TotalJudged[] = [];
  const sink: Sink = { ...NOWHERE, read: (reading) => readings.push(reading) };
  followAll(from, inOrder(proposed(entries, proposals)), settingsAt, sink);
  return readings;
}

/** The entries as they would count: an amendment stands in the place of its original, what is new was recorded last. */
function proposed(entries: readonly Placed[], proposals: readonly Proposal[]): Placed[] {
  const last = entries.reduce((most, { sequence }) => Math.max(most, sequence), 0);
  let all = [...entries];
  for (const [i, proposal] of proposals.entries()) {
    switch (proposal.do) {
      case "record": {
        const { entry } = proposal;
        all.push({ id: `proposed:${i}`, sequence: last + 1 + i, source: "person", entry });
        break;
      }
      case "amend": {
        const { target, replacement: entry } = proposal;
        all = all.map((placed) => (placed.id === target ? { ...placed, entry } : placed));
        break;
      }
      case "void":
        all = all.filter(({ id }) => id !== proposal.target);
        break;
      // What is yet to be read off says nothing.
      case "read":
        break;
      default:
        return proposal satisfies never;
    }
  }
  return all;
}
