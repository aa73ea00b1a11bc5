/**
 * True output: what came by a site less what was put in there to irrigate it. Irrigant that comes back is no
 * output, so what comes by an irrigated site counts only when that is emptied, less what went in since the
 * last time. What runs in by a line is known as its readings have it, wherever they stand.
 *
 * Invariant: what counts as output of a site up to an emptying is what came by it less what went in, and
 * nothing counts before that, or twice.
 */

import type { Placed } from "../infusion/entry.js";
import type { CameOut } from "../infusion/evidence.js";
import { greater, lesser, minus, NOTHING, plus, type Volume, volumeOf } from "../infusion/quantity.js";
import type { Instant } from "../time/instant.js";
import { CERTAIN, type Certainty, together } from "./certainty.js";
import type { ChartedIntake } from "./charted.js";
import { BEGINNING, type Inflow } from "./inflow.js";
import type { Sites } from "./sites.js";

/** What came out of the patient and counts from its instant on: measured, weighed, read, or only seen. */
export interface Output
  extends Pick<CameOut, "entry" | "at" | "category" | "from" | "leftOut" | "ofChamber"> {
  /** The site it came by, where one is named. */
  readonly site: string | null;
  /** What counts: what came, less irrigant and less what was given back. At least this much, where something is left out. */
  readonly volume: Volume;
  /** What came that did not count before, irrigant included. */
  readonly drained: Volume;
  /** Irrigant that is taken off here, since it came back with this. */
  readonly instilled: Volume;
  /** By how much more irrigant went in than came out; nothing where it did not. */
  readonly exceeds: Volume;
  /** Since when that went in and came: when the site was emptied or read before. */
  readonly since: Instant | null;
  /** Irrigant of an unknown volume came back with it, so that it is at most `volume`. */
  readonly unsure: boolean;
  /** Irrigant was lost on its way in and nobody knows how much, so that it is at least `volume`. */
  readonly orMore: boolean;
}

/** Irrigant that was put in by hand. */
export interface Instilled {
  readonly site: string;
  readonly at: Instant;
  /** Null where nobody knows how much. */
  readonly volume: Volume | null;
}

export interface Unnamed {
  readonly came: readonly Output[];
  /** The irrigant that stood at the site when the last of it came. */
  readonly stands: Volume;
}

export interface TrueOutputs {
  readonly outputs: readonly Output[];
  readonly instilled: readonly Instilled[];
  /** When each site was emptied, in order. */
  readonly emptied: ReadonlyMap<string, readonly Instant[]>;
  /** What came by no named site since irrigant went into a site that was not emptied since. */
  readonly unnamed: ReadonlyMap<string, Unnamed>;
}

/** What a stay's entries, in the order in which they count, and all that came out come to. */
export function trueOutputs(
  entries: readonly Placed[],
  came: readonly CameOut[],
  { sites, inflow, instilled }: Pick<ChartedIntake, "instilled"> & { sites: Sites; inflow: Inflow },
): TrueOutputs {
  const course = new Course(inflow);
  const named = came.map((one) => ({ ...one, site: one.site === null ? null : sites.named(one.site) }));
  const outputs = new Map(named.map((one, i) => [one.entry, { one, more: isEmptiedAgain(named, i) }]));
  for (const { id, entry } of entries) {
    const output = outputs.get(id);
    if (output !== undefined) course.comes(output.one, output.more);
    if (entry.kind === "irrigant-instilled") {
      course.instil({ site: sites.named(entry.site), at: entry.at, volume: volumeOf(entry.volume) });
    }
    const volume = entry.kind === "intake-measured" ? instilled.get(id) : undefined;
    if (entry.kind === "intake-measured" && volume !== undefined) {
      course.instil({ site: sites.irrigatedBy(entry.line ?? null)!, at: entry.at, volume });
    }
  }
  return course;
}

/** Whether the site is emptied by another entry at the same instant: one emptying, charted in parts. */
function isEmptiedAgain(all: readonly CameOut[], index: number): boolean {
  const { at, site } = all[index]!;
  for (let i = index + 1; i < all.length && all[i]!.at === at; i++) {
    if (all[i]!.site === site && all[i]!.emptied) return true;
  }
  return false;
}

/** What stands at a site since it was last emptied. */
interface Standing {
  readonly instilled: Volume;
  /** What came, irrigant included, and what of that counts already, since it was read before any irrigant went in. */
  readonly came: Volume;
  readonly counted: Volume;
  /** When it was last emptied, or read and counted. */
  readonly since: Instant | null;
  /** How sure it is what was instilled, and up to when that is reckoned. */
  readonly certainty: Certainty;
  readonly upTo: Instant;
}

const EMPTY: Standing = {
  instilled: NOTHING,
  came: NOTHING,
  counted: NOTHING,
  since: null,
  certainty: CERTAIN,
  upTo: BEGINNING,
};

class Course implements TrueOutputs {
  readonly outputs: Output[] = [];
  readonly instilled: Instilled[] = [];
  readonly emptied = new Map<string, Instant[]>();
  readonly unnamed = new Map<string, Unnamed>();
  private readonly standing = new Map<string, Standing>();

  constructor(private readonly inflow: Inflow) {
    for (const site of inflow.irrigated) this.standing.set(site, EMPTY);
  }

  instil(one: Instilled): void {
    const standing = this.at(one.site, one.at);
    this.standing.set(one.site, {
      ...standing,
      instilled: plus(standing.instilled, one.volume ?? NOTHING),
      certainty: together(standing.certainty, { more: one.volume === null, less: false }),
    });
    this.instilled.push(one);
  }

  comes(one: CameOut, more: boolean): void {
    if (one.site === null) this.comesByNone(one);
    else if (one.emptied) this.empties(one.site, one, more);
    else this.isRead(one.site, one);
  }

  private comesByNone(one: CameOut): void {
    const output = counted(one, one.volume);
    this.outputs.push(output);
    for (const site of this.standing.keys()) {
      const { instilled: stands } = this.at(site, one.at);
      if (stands <= NOTHING || one.volume <= NOTHING) continue;
      this.unnamed.set(site, { came: [...(this.unnamed.get(site)?.came ?? []), output], stands });
    }
  }

  /** What is read counts at once, unless it may be irrigant; what only happened, as having happened. */
  private isRead(site: string, one: CameOut): void {
    const standing = this.at(site, one.at);
    const irrigated = standing.instilled > NOTHING || standing.certainty.more;
    const volume = irrigated ? NOTHING : one.volume;
    this.standing.set(site, {
      ...standing,
      came: plus(standing.came, one.volume),
      counted: plus(standing.counted, volume),
      since: irrigated ? standing.since : one.at,
    });
    if (!irrigated || one.leftOut > 0) this.outputs.push(counted(one, volume));
  }

  /**
   * What came and did not count before, less what went in. Of one emptying charted in parts the irrigant comes
   * off as far as each part goes, and the last part has the rest. Where nobody looked what it held, no less
   * than nothing came by it.
   */
  private empties(site: string, one: CameOut, more: boolean): void {
    const { at } = one;
    const standing = this.at(site, at);
    const { certainty, since } = standing;
    const drained = minus(plus(standing.came, one.volume), standing.counted);
    const instilled = more ? greater(NOTHING, lesser(standing.instilled, drained)) : standing.instilled;
    const whole = minus(drained, instilled);
    const volume = one.leftOut > 0 ? greater(whole, NOTHING) : whole;
    const exceeds = instilled > NOTHING && volume < NOTHING ? minus(NOTHING, volume) : NOTHING;
    const sure = { unsure: certainty.more, orMore: certainty.less };
    this.outputs.push({ ...counted(one, volume), drained, instilled, exceeds, since, ...sure });
    const left = minus(standing.instilled, instilled);
    this.standing.set(
      site,
      more ? { ...EMPTY, instilled: left, certainty, since, upTo: at } : { ...EMPTY, since: at, upTo: at },
    );
    if (more) return;
    this.emptied.set(site, [...(this.emptied.get(site) ?? []), at]);
    this.unnamed.delete(site);
  }

  /** What stands at a site, with what ran in up to an instant. */
  private at(site: string, at: Instant): Standing {
    const standing = this.standing.get(site) ?? EMPTY;
    const { volume, certainty } = this.inflow.between(site, standing.upTo, at);
    const now = {
      ...standing,
      instilled: plus(standing.instilled, volume),
      certainty: together(standing.certainty, certainty),
      upTo: at,
    };
    this.standing.set(site, now);
    return now;
  }
}

/** What came, of which so much counts here. */
function counted({ entry, at, category, site, from, leftOut, ofChamber }: CameOut, volume: Volume): Output {
  return {
    entry,
    at,
    category,
    site,
    from,
    leftOut,
    ofChamber,
    volume,
    drained: volume,
    instilled: NOTHING,
    exceeds: NOTHING,
    since: null,
    unsure: false,
    orMore: false,
  };
}
