/** The kept charts that a request may move figures of, beside the ledger as it was and as it is with it. */

import type { ChartCompared } from "../findings/finding.js";
import type { Inquiry } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import type { Appended } from "./append.js";
import { chartsCompared } from "./compared-charts.js";
import { type Both, spanTouched } from "./reach.js";
import type { Known } from "./replay.js";

export function* chartsTouched(
  before: Known,
  appended: Appended,
  now: Instant,
): Inquiry<Both<readonly ChartCompared[]>> {
  const { staged, changedFrom, facts } = appended;
  const none = { before: [], after: [] };
  const touching = spanTouched(appended, now);
  if (touching === null) return none;
  const was = yield* chartsCompared({ known: before, until: now, facts }, touching);
  if (was.length === 0) return none;
  const after = { ...before, staged, stagedFrom: changedFrom };
  return { before: was, after: yield* chartsCompared({ known: after, until: now, facts }, touching) };
}
