/**
 * Chambers: counters without a rate. What one gained since it was last read belongs to the instant of its
 * reading; an emptying nobody read before leaves it unknown, never nothing. A chamber is a site of its own
 * name: irrigant that comes back by it is taken off when it is emptied.
 */

import { type Instant, MINUTE } from "../time/instant.js";
import type { ChamberEmptied, ChamberPlaced, ChamberRead, OutputCategory } from "./entry.js";
import { minus, NOTHING, type Volume, volumeOf } from "./quantity.js";
import type { Chamber } from "./state.js";
import { type Step, withoutEffect } from "./step.js";

/** A chamber begins to collect; placed again, it is another one, and what the last one held is not known. */
export function place(run: Step, { chamber, category, level }: ChamberPlaced): void {
  const before = run.draft.chamber(chamber);
  if (before !== undefined) drained(run, before, null, { emptied: true });
  run.draft.putChamber(standing(run, chamber, category, volumeOf(level ?? 0)));
}

/** What it gained since it was last read came out; a level lower than that one says it was emptied unseen. */
export function read(run: Step, { chamber, category, level, confirmed }: ChamberRead): void {
  const before = run.draft.chamber(chamber);
  const shows = volumeOf(level);
  if (before === undefined) {
    if (category === undefined) return withoutEffect(run, null, `nobody placed the chamber ${chamber}`);
    // Of what it held before nobody knows: it is measured from here on.
    run.draft.putChamber(standing(run, chamber, category, shows));
    return;
  }
  const gained = shows < before.level ? null : minus(shows, before.level);
  drained(run, before, gained, { emptied: gained === null, answered: confirmed === true, shows });
  run.draft.putChamber(standing(run, chamber, category ?? before.category, shows));
}

/** Emptied, its level starts at nothing; what it held is read with it, or is not known. */
export function empty(run: Step, entry: ChamberEmptied): void {
  const { chamber, category, level, leaveUncaptured } = entry;
  const before = run.draft.chamber(chamber);
  if (before === undefined) {
    if (category === undefined) return withoutEffect(run, null, `nobody placed the chamber ${chamber}`);
    const whole = standing(run, chamber, category, NOTHING);
    const held = level === undefined ? null : volumeOf(level);
    drained(run, whole, held, { emptied: true, answered: leaveUncaptured === true, from: null });
    run.draft.putChamber(whole);
    return;
  }
  const shows = level === undefined ? null : volumeOf(level);
  const gained = shows === null || shows < before.level ? null : minus(shows, before.level);
  drained(run, before, gained, { emptied: true, answered: leaveUncaptured === true, shows });
  run.draft.putChamber(standing(run, chamber, category ?? before.category, NOTHING));
}

function standing({ id, at }: Step, chamber: string, category: OutputCategory, level: Volume): Chamber {
  return { chamber, category, level, entry: id, from: at };
}

/** A chamber read this short a time before it was emptied or changed is read: nothing is left out. */
export const READ_JUST_BEFORE = 2 * MINUTE;

interface Look {
  readonly emptied: boolean;
  /** A person confirmed it, or gave a reason for not looking. */
  readonly answered?: boolean;
  /** What it held; null where nobody looked. */
  readonly shows?: Volume | null;
  /** Null where nobody knows since when it collects. */
  readonly from?: Instant | null;
}

function drained(
  run: Step,
  { chamber, category, level, entry: over, from }: Chamber,
  volume: Volume | null,
  { emptied, answered = false, shows = null, from: since = from }: Look,
): void {
  const { id, sequence, source, at, sink } = run;
  const lower = shows !== null && shows < level;
  const leftOut = volume === null && (lower || since === null || at - from > READ_JUST_BEFORE) ? 1 : 0;
  sink.output({
    entry: id,
    at,
    category,
    site: chamber,
    from: since,
    volume: volume ?? NOTHING,
    leftOut,
    emptied,
    ofChamber: true,
  });
  sink.drained({
    entry: id,
    sequence,
    source,
    at,
    chamber,
    category,
    over,
    from,
    level,
    shows,
    volume,
    lower,
    answered,
  });
}
