/** The bedside question: what every channel and chamber does and should show at an instant, and what is at risk. */

import { begunBy, capturedBy } from "../infusion/captured.js";
import { NOTHING } from "../infusion/quantity.js";
import type { Channel, State } from "../infusion/state.js";
import { ask, type Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { earliest, type Instant, later, latest } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { chainOf } from "./acknowledgements.js";
import { chambersText } from "./chambers-text.js";
import { type Coordinates, coordinates, written } from "./coordinates.js";
import { courseOf } from "./course.js";
import { recordedOf } from "./families.js";
import { lineLabels } from "./labels.js";
import type { Asked } from "./ledger.js";
import { done, type Outcome, refused } from "./refusal.js";
import type { Known } from "./replay.js";
import { type ChannelText, channelsText } from "./totals-text.js";

export function* totals(
  encounter: string,
  query: Asked & { readonly at?: Instant | undefined },
  now: Instant,
): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const { until } = resolved.done;
  const asked = query.at ?? until;
  if (asked > until) {
    const detail = "`at` lies beyond what the answer is computed up to; nothing is projected.";
    return refused({
      problem: "bad-parameter",
      errors: [{ parameter: "at", code: "in-the-future", detail }],
    });
  }
  const { zone } = resolved.done.facts.conventions.stretchAt(asked);
  const bedside = yield* bedsideAt(resolved.done, asked);
  return done({ at: formatInstant(asked, zone), ...written(resolved.done), ...bedside });
}

/** How far back the flows of a total nobody ever read are told one by one. */
const MOST_TOLD = 31 * DAY;

interface Bedside {
  readonly channels: readonly ChannelText[];
  readonly chambers: ReturnType<typeof chambersText>;
}

export function* bedsideAt(at: Coordinates, asked: Instant): Inquiry<Bedside> {
  const { known, facts } = at;
  const { settingsAt } = facts.conventions;
  const over = (from: Instant) => courseOf(known, { start: from, end: asked }, settingsAt);
  const { state, collected: here } = yield* over(asked);
  const since = new Map(
    [...state.channels].flatMap(([key, channel]) => {
      const open = untoldSince(channel, asked);
      return open === null ? [] : [[key, open] as const];
    }),
  );
  const from = latest(later(asked, -MOST_TOLD), earliest(asked, ...since.values()));
  const own = from < asked ? (yield* over(from)).collected : here;
  const begun = begunBy(own, from);
  const whole = begun < from ? (yield* over(begun)).collected : own;
  const captured = capturedBy(whole, (channel) => since.get(channel), asked);
  const lines = [...state.channels.values()].flatMap(({ line }) => (line === null ? [] : [line]));
  const labels = yield* lineLabels(known, lines);
  const { zone } = facts.conventions.stretchAt(asked);
  return {
    channels: channelsText(state, { flows: own.flows, from, captured }, zone, labels),
    chambers: chambersText(state, yield* emptiedBy(known, state), zone),
  };
}

/** The entries that emptied a chamber, of those that chambers stand on: nobody read what they hold since. */
function* emptiedBy({ chain }: Known, { chambers }: State): Inquiry<ReadonlySet<string>> {
  const ids = [...chambers.values()].filter(({ level }) => level === NOTHING).map(({ entry }) => entry);
  const rows = ids.length === 0 ? [] : yield* ask({ ask: "ids", chain, ids });
  const emptied = rows.filter(
    (row) => ids.includes(row.id) && recordedOf(row).body.kind === "chamber-emptied",
  );
  return new Set(emptied.map(({ id }) => id));
}

/**
 * Since when something of a channel is not written down: its totals' last reading or clear; where it keeps none, as
 * long as a day. Null where nothing flowed since, or nothing is connected that could tell.
 */
function untoldSince({ counters, connected }: Channel, asked: Instant): Instant | null {
  const all = Object.values(counters);
  if (all.length === 0) return connected ? later(asked, -DAY) : null;
  const open = all.filter(({ since, atLeast }) => since > 0n || atLeast).map(({ from }) => from);
  return open.length === 0 ? null : earliest(...(open as [Instant]));
}
