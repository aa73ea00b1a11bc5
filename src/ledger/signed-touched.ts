/** The signed spans that a request may move figures of, held against what was signed: as it was and with the request. */

import type { SignedSpan } from "../findings/finding.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, latest } from "../time/instant.js";
import type { Appended } from "./append.js";
import type { Moment } from "./coordinates.js";
import { signedSpans } from "./evidence.js";
import { type Both, spanTouched } from "./reach.js";
import type { Known } from "./replay.js";
import { type Signature, signaturesOver } from "./signatures.js";

/** Where no signed time is touched, as mostly, no figure is worked out. */
export function* signedTouched(
  before: Known,
  appended: Appended,
  now: Instant,
): Inquiry<Both<readonly SignedSpan[]>> {
  const { staged, changedFrom, facts } = appended;
  const span = spanTouched(appended, now);
  const touched = span === null ? [] : yield* signaturesOver(before, { from: span.start, to: span.end });
  if (touched.length === 0) return { before: [], after: [] };
  // A signature stands for the time that no later one is over: those are needed as well.
  const whole = {
    from: earliest(...touched.map(({ from }) => from)),
    to: latest(...touched.map(({ to }) => to)),
  };
  const signatures = yield* signaturesOver(before, whole);
  const after = { ...before, staged, stagedFrom: changedFrom };
  return {
    before: yield* spansOf({ known: before, until: now, facts }, signatures, touched),
    after: yield* spansOf({ known: after, until: now, facts }, signatures, touched),
  };
}

function* spansOf(at: Moment, signatures: readonly Signature[], touched: readonly Signature[]) {
  const ids = new Set(touched.map(({ id }) => id));
  const spans = yield* signedSpans(at, signatures);
  return spans.filter(({ entry }) => ids.has(entry));
}
