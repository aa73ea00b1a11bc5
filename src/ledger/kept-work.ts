/**
 * Work over an encounter that is kept until something it asked the store for has another answer. An inquiry
 * is pure but for what it asks, so its result holds as long as every answer does; whatever is recorded since
 * is held against what was asked, and what it could have changed is worked out again.
 *
 * Invariants: what is kept is what the work would give if it were done now. Only the present is kept, as of
 * all that is known, and only what does not depend on when it is asked but for what has happened by then.
 */

import { ask, type Chain, type Inquiry, type Row } from "../store/store.js";
import { type Instant, instant, later } from "../time/instant.js";
import type { Coordinates } from "./coordinates.js";
import { type Asked, goesOn, isIn, noted, nothingAsked } from "./what-was-asked.js";

interface Kept {
  readonly asked: Asked;
  readonly result: unknown;
}

/** What is kept of one chain, and of what moment. */
interface OfChain {
  upTo: number;
  digest: string;
  until: Instant;
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
  readonly #chains = new Map<Chain, OfChain>();

  /** What is kept of an encounter as of now, with everything taken out that no longer holds. */
  *at(at: Coordinates): Inquiry<Works> {
    const { chain, upTo } = at.known;
    const { digest } = at.asOf;
    const known = this.#chains.get(chain);
    const holds = known !== undefined && (yield* broughtUp(known, at));
    const kept = holds ? known : { upTo, digest, until: at.until, works: new Map<string, Kept>() };
    put(this.#chains, chain, kept, MOST_CHAINS);
    return new Works(kept, upTo, at.until);
  }
}

/** The work kept of one encounter, for whoever stands at one moment. */
export class Works {
  constructor(
    private readonly kept: OfChain | null,
    private readonly upTo: number,
    private readonly until: Instant,
  ) {}

  /**
   * The result of some work, by its name; done where it is not kept. It is settled once time alone does not
   * change it: up to that instant it is done and not kept. Work must not have other kept work in it, of which
   * it would not know what that had asked.
   */
  *of<T>(name: string, settled: Instant, work: () => Inquiry<T>): Inquiry<T> {
    if (this.until <= settled || !this.isPresent()) return yield* work();
    const known = this.kept?.works.get(name);
    if (known !== undefined) return known.result as T;
    const asked = nothingAsked();
    const { result, keep } = yield* watched(work(), asked, this.until);
    // A database that answers between ticks may have let somebody else bring it up to a later moment.
    if (keep && this.isPresent()) put(this.kept!.works, name, { asked, result }, MOST_WORKS);
    return result;
  }

  private isPresent(): boolean {
    return this.kept !== null && this.kept.upTo === this.upTo && this.kept.until === this.until;
  }
}

/** Of whoever asks for the past, of which nothing is kept. */
export const NOTHING_KEPT = new Works(null, 0, instant(0));

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

/** Brings what is kept up to a moment; false where nothing of it may be relied on. */
function* broughtUp(kept: OfChain, { known: { chain, upTo }, asOf, until }: Coordinates): Inquiry<boolean> {
  if (upTo < kept.upTo || until < kept.until) return false;
  if (upTo === kept.upTo && asOf.digest !== kept.digest) return false;
  const recorded = upTo === kept.upTo ? [] : yield* recordedSince(chain, kept, upTo);
  if (recorded === undefined) return false;
  // What was recorded ahead of its time happens meanwhile.
  const happened = until === kept.until ? [] : yield* happenedSince(chain, kept, until);
  for (const row of happened) {
    for (const [name, one] of kept.works) if (goesOn(one.asked, row)) kept.works.delete(name);
  }
  for (const row of recorded) {
    const family = row.root === null ? [row] : yield* familyOf(chain, row.root, upTo);
    if (family.some(({ kind }) => OF_THE_STAY.includes(kind))) return false;
    for (const [name, { asked }] of kept.works) {
      if (family.some((one) => isIn(one, asked))) kept.works.delete(name);
    }
  }
  Object.assign(kept, { upTo, digest: asOf.digest, until });
  return true;
}

/** The rows recorded since; undefined where the chain is not the one that was known, or there are too many. */
function* recordedSince(
  chain: Chain,
  { upTo, digest }: OfChain,
  head: number,
): Inquiry<readonly Row[] | undefined> {
  if (head - upTo > MOST_RECORDED) return undefined;
  const [last, ...since] = yield* ask({
    ask: "page",
    chain,
    after: upTo - 1,
    upTo: head,
    limit: MOST_RECORDED + 1,
  });
  return last?.digest === digest ? since : undefined;
}

function happenedSince(chain: Chain, kept: OfChain, until: Instant): Inquiry<readonly Row[]> {
  const span = { from: later(kept.until, 1), to: later(until, 1) };
  return ask({ ask: "span", chain, ...span, upTo: kept.upTo });
}

/** An original with all its corrections: any of them may have stood where it was asked for. */
function* familyOf(chain: Chain, root: number, upTo: number): Inquiry<readonly Row[]> {
  const [original] = yield* ask({ ask: "page", chain, after: root - 1, upTo: root, limit: 1 });
  if (original === undefined || original.at === null) return original === undefined ? [] : [original];
  const span = { from: original.at, to: later(original.at, 1) };
  const there = yield* ask({ ask: "span", chain, ...span, upTo });
  return there.filter(({ sequence, root: of }) => sequence === root || of === root);
}
