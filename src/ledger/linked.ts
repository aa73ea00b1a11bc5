/**
 * Reports of one event by a person and a device, which count once: each of the two is shown with the id
 * of the other. Which they are follows from the course, and may change with what is charted around them.
 */

import { followAll } from "../infusion/course.js";
import { NOWHERE, type Note } from "../infusion/flow.js";
import { SAME_EVENT_WITHIN } from "../infusion/state.js";
import type { SettingsAt } from "../infusion/step.js";
import type { Inquiry, Row } from "../store/store.js";
import { HOUR, type Instant, later } from "../time/instant.js";
import { countingOf, placedOf } from "./families.js";
import { type Known, stretchBetween } from "./replay.js";

/** The id of the other report by the id of each. */
export type Linked = ReadonlyMap<string, string>;

export function linkedBy(notes: readonly Note[]): Linked {
  return new Map(
    notes.flatMap(({ entry, twin }): [string, string][] =>
      twin === undefined
        ? []
        : [
            [entry, twin],
            [twin, entry],
          ],
    ),
  );
}

/** Entries further apart than this are looked at by themselves. */
const APART = 6 * HOUR;

/** The links of the entries of whole families, worked out from the course around them. */
export function* linkedAmong(
  known: Known,
  settingsAt: SettingsAt,
  families: readonly Row[],
): Inquiry<Linked> {
  const instants = countingOf(families).flatMap((one): Instant[] => {
    const entry = placedOf(one)?.entry;
    return entry !== undefined && "channel" in entry ? [entry.at] : [];
  });
  const notes: Note[] = [];
  const sink = { ...NOWHERE, note: (note: Note) => notes.push(note) };
  for (const { from, to } of together(instants)) {
    const stretch = yield* stretchBetween(known, settingsAt, from, later(to, SAME_EVENT_WITHIN + 1));
    const sources = new Set(stretch.entries.map(({ placed }) => placed.source));
    const before = [...stretch.state.channels.values()].flatMap(({ reports }) => reports);
    for (const { source } of before) sources.add(source);
    if (sources.size < 2) continue;
    const told = stretch.entries.map(({ placed }) => placed);
    followAll(stretch.state, told, settingsAt, sink);
  }
  return linkedBy(notes);
}

function together(instants: readonly Instant[]): { from: Instant; to: Instant }[] {
  const spans: { from: Instant; to: Instant }[] = [];
  for (const at of instants.toSorted((a, b) => a - b)) {
    const last = spans.at(-1);
    if (last !== undefined && at <= later(last.to, APART)) last.to = at;
    else spans.push({ from: at, to: at });
  }
  return spans;
}
