/**
 * Signatures as they stand in a chain: who signed which span, over which figures, and what those rest on.
 *
 * Invariant: every instant that is signed has exactly one signature that stands for it, the last one over it.
 */

import type { Anchor } from "../infusion/anchor.js";
import { fromTicks, NOTHING, type Volume } from "../infusion/quantity.js";
import { ask, type Inquiry, type Row } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { HOUR, type Instant, later, type Period } from "../time/instant.js";
import { without } from "../time/periods.js";
import { readInstant } from "../wire/instant.js";
import type { AnchorText, ShiftSignedText } from "../wire/signed.js";
import { recordedOf } from "./families.js";
import type { Author } from "./record.js";
import { remembering } from "./remembering.js";
import { END_OF_TIME, type Known } from "./replay.js";

/** What the figures of one channel rest on, as of a signature. */
export interface Rest {
  readonly channel: string;
  readonly from: Instant;
  readonly to: Instant;
  readonly course: string;
  readonly anchors: readonly Anchor[];
}

export interface Signature {
  readonly id: string;
  readonly sequence: number;
  readonly recordedAt: Instant;
  readonly by: Author;
  readonly from: Instant;
  readonly to: Instant;
  /** The last instant whose amounts it does not cover: what stands on the start of a span belongs to the one before. */
  readonly after: Instant;
  readonly body: ShiftSignedText;
  readonly rests: readonly Rest[];
}

/** No span is longer than a shift, and no shift than a day and the hour that comes twice. */
const LONGEST = DAY + HOUR;

/** The signatures over spans that reach into a period, in order of recording. */
export function* signaturesOver(
  { chain, upTo }: Known,
  { from, to }: { readonly from: Instant; readonly to: Instant },
): Inquiry<Signature[]> {
  const rows = yield* ask({ ask: "signatures", chain, after: from, before: later(to, LONGEST), upTo });
  return rows.map(signatureOf).filter((one) => one.from < to);
}

/** No bag hangs for longer, and so no two levels that tell of one flow lie further apart (common practice: 4 days). */
const LONGEST_HUNG = 7 * DAY;

/** The signatures whose figures may rest on what flowed after an instant, in order of recording. */
export function* signaturesBeyond({ chain, upTo }: Known, at: Instant): Inquiry<Signature[]> {
  const after = later(at, -LONGEST_HUNG);
  return (yield* ask({ ask: "signatures", chain, after, before: END_OF_TIME, upTo })).map(signatureOf);
}

/** Every signature of a stay, in order of recording. */
export function* allSignatures({ chain, upTo }: Known): Inquiry<Signature[]> {
  return (yield* ask({ ask: "kinds", chain, kinds: ["shift-signed"], upTo })).map(signatureOf);
}

/** Signed time for which a signature stands, as no later one is over it. */
export interface Stands extends Period {
  readonly signature: Signature;
}

/** What is signed, in order of time: a later signature stands for the time it covers, an earlier one for the rest. */
export function standing(signatures: readonly Signature[]): Stands[] {
  const stands: Stands[] = [];
  for (const signature of [...signatures].sort((a, b) => b.sequence - a.sequence)) {
    const span = { start: signature.from, end: signature.to };
    stands.push(...without(span, stands).map((own) => ({ ...own, signature })));
  }
  return stands.sort((a, b) => a.start - b.start);
}

export const signatureOf = remembering((row: Row): Signature => {
  const { id, sequence, recordedAt, by, body } = recordedOf(row);
  if (body.kind !== "shift-signed") throw new TypeError(`no signature: ${body.kind}`);
  const rests = body.rests.map(({ channel, from, to, course, anchors }) => ({
    channel,
    from: readInstant(from),
    to: readInstant(to),
    course,
    anchors: anchors.map((anchor) => anchorOf(channel, anchor)),
  }));
  const span = { from: readInstant(body.from), to: readInstant(body.at) };
  const after = body.fromAdmission ? later(span.from, -1) : span.from;
  return { id, sequence, recordedAt, by, ...span, after, body, rests };
});

function anchorOf(channel: string, { from, to, increment, shows, ...text }: AnchorText): Anchor {
  const known = (ticks: string | null): Volume | null => (ticks === null ? null : fromTicks(ticks));
  return {
    ...text,
    channel,
    from: readInstant(from),
    to: readInstant(to),
    increment: fromTicks(increment),
    delivered: known(text.delivered),
    computed: known(text.computed) ?? NOTHING,
    shows: fromTicks(shows),
  };
}
