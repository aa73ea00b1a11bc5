/**
 * Work over an encounter that is kept until something it asked the store for has another answer. An inquiry
 * is pure but for what it asks, so its result holds as long as every answer does; what was recorded, or
 * happened, between two moments is held against what was asked, and what it could have changed is worked out again.
 *
 * Invariants: what is kept is what the work would give if it were done at that moment, and only what does not
 * depend on when it is asked but for what has happened by then. The present is kept of every encounter, and of the
 * past the moment it was last asked of; a moment takes over from both what holds there too.
 */

import { ask, type Chain, type Inquiry, type Row } from "../store/store.js";
import { earliest, type Instant, later, latest } from "../time/instant.js";
import type { Coordinates } from "./coordinates.js";
import { type Asked, goesOn, isIn, noted, nothingAsked } from "./what-was-asked.js";

interface Kept {
  readonly asked: Asked;
  readonly result: unknown;
}

/** What is kept of one chain, and of what moment. */
interface OfMoment {
  readonly upTo: number;
  readonly digest: string;
  readonly until: Instant;
  readonly works: Map<string, Kept>;
}

const MOST_CHAINS = 400;
/** The days of a stay of a year in parts, and as many shifts as anybody looks back to. */
const MOST_WORKS = 200;
/** More than that recorded since is not held against what was asked, entry by entry. */
const MOST_RECORDED = 200;

/** They decide which conventions hold and where the patient is, which all work begins with. */
const OF_THE_STAY: readonly string[] = ["admitted", "moved", "discharged", "settings-changed"];

export class KeptWork {
  readonly #present = new Map<Chain, OfMoment>();
  readonly #past = new Map<Chain, OfMoment>();

  /** What is kept of an encounter as of a moment: the present, or one of the past. */
  *at(at: Coordinates, isPresent: boolean): Inquiry<Works> {
    const { chain, upTo } = at.known;
    const { digest } = at.asOf;
    const works = new Map<string, Kept>();
    const others = [this.#present.get(chain), isPresent ? undefined : this.#past.get(chain)];
    for (const other of others) {
      if (other === undefined) continue;
      for (const [name, one] of yield* holding(other, at)) works.set(name, one);
    }
    put(isPresent ? this.#present : this.#past, chain, { upTo, digest, until: at.until, works }, MOST_CHAINS);
    return new Works(works, at.until);
  }
}

/** The work kept of one encounter, for whoever stands at one moment. */
export class Works {
  constructor(
    private readonly works: Map<string, Kept>,
    private readonly until: Instant,
  ) {}

  /** What is kept under names that begin with a word, whichever work would ask for it. */
  kept<T>(word: string): (readonly [name: string, result: T])[] {
    const some = [...this.works].filter(([name]) => name.startsWith(word));
    return some.map(([name, { result }]) => [name, result as T]);
  }

  /**
   * The result of some work, by its name; done where it is not kept. It is settled once time alone does not
   * change it: up to that instant it is done and not kept. Work must not have other kept work in it, of which
   * it would not know what that had asked.
   */
  *of<T>(name: string, settled: Instant, work: () => Inquiry<T>): Inquiry<T> {
    if (this.until <= settled) return yield* work();
    const known = this.works.get(name);
    if (known !== undefined) return known.result as T;
    const asked = nothingAsked();
    const { result, keep } = yield* watched(work(), asked, this.until);
    if (keep) put(this.works, name, { asked, result }, MOST_WORKS);
    return result;
  }
}

/** Puts something last, and takes out the first where there are too many. */
function put<K, V>(map: Map<K, V>, key: K, value: V, most: number): void {
  map.delete(key);
  map.set(key, value);
  if (map.size > most) map.delete(map.keys().next().value!);
}

/** Runs work and notes what it asks; what is asked for that has no note here makes it nothing to keep. */
function* watched<T>(work: Inquiry<T>, asked: Asked, until: Instant): Inquiry<{ result: T; keep: boolean }> {
  let keep = true;
  let step = work.next();
  while (!step.done) {
    keep = noted(step.value, asked, until) && keep;
    step = work.next(yield step.value);
  }
  return { result: step.value, keep };
}

/** Of what is kept of a moment, that which holds at another of the same encounter, earlier or later. */
function* holding(kept: OfMoment, at: Coordinates): Inquiry<readonly [string, Kept][]> {
  const { chain } = at.known;
  const there: Moment = { upTo: at.known.upTo, digest: at.asOf.digest, until: at.until };
  const [less, more] = kept.upTo <= there.upTo ? [kept, there] : [there, kept];
  const recorded = yield* recordedBetween(chain, less, more);
  if (recorded === undefined) return [];
  const families: (readonly Row[])[] = [];
  for (const row of recorded) {
    const family = row.root === null ? [row] : yield* familyOf(chain, row.root, more.upTo);
    if (family.some(({ kind }) => OF_THE_STAY.includes(kind))) return [];
    families.push(family);
  }
  // What was recorded ahead of its time happens meanwhile; of an earlier moment it had not happened.
  const happened = yield* happenedBetween(chain, kept.until, there.until, more.upTo);
  const isBack = there.until < kept.until;
  return [...kept.works].filter(
    ([, { asked }]) =>
      !happened.some((row) => goesOn(asked, row) || (isBack && isIn(row, asked))) &&
      !families.some((family) => family.some((row) => isIn(row, asked))),
  );
}

type Moment = Omit<OfMoment, "works">;

/** The rows recorded between two moments; undefined where they are not of one chain, or too far apart. */
function* recordedBetween(chain: Chain, less: Moment, more: Moment): Inquiry<readonly Row[] | undefined> {
  if (less.upTo === more.upTo) return less.digest === more.digest ? [] : undefined;
  if (more.upTo - less.upTo > MOST_RECORDED) return undefined;
  const after = less.upTo - 1;
  const [last, ...since] = yield* ask({
    ask: "page",
    chain,
    after,
    upTo: more.upTo,
    limit: MOST_RECORDED + 1,
  });
  return last?.digest === less.digest && since.at(-1)?.digest === more.digest ? since : undefined;
}

function* happenedBetween(chain: Chain, one: Instant, other: Instant, upTo: number): Inquiry<readonly Row[]> {
  if (one === other) return [];
  const span = { from: later(earliest(one, other), 1), to: later(latest(one, other), 1) };
  return yield* ask({ ask: "span", chain, ...span, upTo });
}

/** An original with all its corrections: any of them may have stood where it was asked for. */
function* familyOf(chain: Chain, root: number, upTo: number): Inquiry<readonly Row[]> {
  const [original] = yield* ask({ ask: "page", chain, after: root - 1, upTo: root, limit: 1 });
  if (original === undefined || original.at === null) return original === undefined ? [] : [original];
  const span = { from: original.at, to: later(original.at, 1) };
  const there = yield* ask({ ask: "span", chain, ...span, upTo });
  return there.filter(({ sequence, root: of }) => sequence === root || of === root);
}
