/**
 * Signed figures that this version of the calculation would make otherwise: each computed again from what was
 * known when it was signed, so that what was recorded since plays no part.
 */

import { ask, type Inquiry } from "../store/store.js";
import { figuresFrom, movedBetween } from "./figures.js";
import { allSignatures, type Signature, standing } from "./signatures.js";
import { stayFacts } from "./stay.js";
import { figuresAsOf } from "./steps.js";

export interface SignedOtherwise {
  readonly encounter: string;
  readonly shift: string;
  readonly from: string;
  readonly to: string;
  /** The version that made the figures. */
  readonly calculation: string;
  /** How many of them this version makes otherwise. */
  readonly figures: number;
}

export interface Compared {
  readonly signatures: number;
  readonly otherwise: readonly SignedOtherwise[];
  /** The encounter to go on after; null where there is none. */
  readonly next: string | null;
}

const AT_ONCE = 20;

/** Of the next encounters in the order of their ids: the signatures that stand, and those of other figures. */
export function* signedOtherwise(after: string | null): Inquiry<Compared> {
  const stays = yield* ask({ ask: "stays", units: null, open: null, after, limit: AT_ONCE });
  const otherwise: SignedOtherwise[] = [];
  let signatures = 0;
  for (const { encounter } of stays) {
    const chain = `encounter/${encounter}` as const;
    const { sequence } = yield* ask({ ask: "head", chain });
    const all = yield* allSignatures({ chain, upTo: sequence, staged: [], stagedFrom: null });
    const signed = new Set(standing(all).map(({ signature }) => signature));
    signatures += signed.size;
    for (const one of signed) {
      const figures = yield* movedIn(chain, one);
      if (figures === 0) continue;
      const { shift, from, at: to, calculation } = one.body;
      otherwise.push({ encounter, shift, from, to, calculation, figures });
    }
  }
  const next = stays.length < AT_ONCE ? null : stays.at(-1)!.encounter;
  return { signatures, otherwise, next };
}

function* movedIn(chain: `encounter/${string}`, { sequence, recordedAt, body }: Signature): Inquiry<number> {
  const facts = yield* stayFacts(chain, sequence);
  if (facts === undefined) return 0;
  const signed = figuresFrom(body.figures);
  // What the signature itself holds is left out, so that readings are judged anew as well.
  const before = sequence - 1;
  const known = { chain, upTo: before, staged: [], stagedFrom: null };
  const at = { known, until: recordedAt, facts, asOf: { sequence: before, recordedAt, digest: "" } };
  return movedBetween(signed, yield* figuresAsOf(at, before, signed.intervals)).length;
}
