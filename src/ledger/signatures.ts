/**
 * Signatures as they stand in a chain: who signed which span, over which figures, and what those rest on.
 *
 * Invariant: of two signatures that overlap, the later one covers all of the earlier one and stands for it.
 */

import type { Anchor } from "../infusion/anchor.js";
import { fromTicks, NOTHING, type Volume } from "../infusion/quantity.js";
import { ask, type Inquiry, type Row } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { HOUR, type Instant, later } from "../time/instant.js";
import { readInstant } from "../wire/instant.js";
import type { AnchorText, ShiftSignedText } from "../wire/signed.js";
import { recordedOf } from "./families.js";
import type { Author } from "./record.js";
import { remembering } from "./remembering.js";
import type { Known } from "./replay.js";

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

/** Every signature of a stay, in order of recording. */
export function* allSignatures({ chain, upTo }: Known): Inquiry<Signature[]> {
  return (yield* ask({ ask: "kinds", chain, kinds: ["shift-signed"], upTo })).map(signatureOf);
}

/** Without those that a later one stands for, in order of their spans. */
export function standing(signatures: readonly Signature[]): Signature[] {
  const stands: Signature[] = [];
  for (const one of [...signatures].sort((a, b) => b.sequence - a.sequence)) {
    if (!stands.some(({ from, to }) => from < one.to && one.from < to)) stands.push(one);
  }
  return stands.sort((a, b) => a.from - b.from);
}

const signatureOf = remembering((row: Row): Signature => {
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
