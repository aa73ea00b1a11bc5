/**
 * The course told again with what a reason proposes. A reason is found by adding to what was computed;
 * whether its entries would settle the reading only the fold can say, since a bag may be empty, something
 * charted may cut short what is proposed, and an entry has a rank at its instant.
 *
 * Invariant: a reason is shown only if the reading, with its proposals recorded, agrees.
 */

import { follow } from "../../infusion/course.js";
import type { Placed } from "../../infusion/entry.js";
import type { TotalJudged } from "../../infusion/evidence.js";
import { NOWHERE, type Sink } from "../../infusion/flow.js";
import { inOrder } from "../../infusion/order.js";
import type { State } from "../../infusion/state.js";
import type { SettingsAt } from "../../infusion/step.js";
import { earliest, HOUR, type Instant, later, latest } from "../../time/instant.js";
import type { Proposal } from "../finding.js";

/** What is told again: everything that counts from the mark that a reading was judged over. */
export interface Retelling {
  /** At the mark, before any entry at that instant. */
  readonly from: State;
  /** What counts from the mark up to `toldUpTo`, the reading itself and what is charted after it included. */
  readonly entries: readonly Placed[];
  readonly settingsAt: SettingsAt;
}

/** The furthest that a charted time is taken to be off. */
export const LONGEST_LAPSE = HOUR;

/** How far a retelling has to go: nothing proposed moves a reading further, and nothing can have happened yet. */
export function toldUpTo({ at }: Pick<TotalJudged, "at">, now: Instant): Instant {
  return latest(at, earliest(now, later(at, LONGEST_LAPSE)));
}

/** Whether a reading agrees once what is proposed is recorded. */
export function settles(
  reading: string,
  { from, entries, settingsAt }: Retelling,
  proposals: readonly Proposal[],
): boolean {
  let agrees = false;
  const sink: Sink = {
    ...NOWHERE,
    read: ({ entry, outcome }) => {
      if (entry === reading) agrees = outcome === "agrees";
    },
  };
  let state = from;
  for (const placed of inOrder(proposed(entries, proposals))) {
    state = follow(state, placed, settingsAt, sink);
    if (placed.id === reading) break;
  }
  return agrees;
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
