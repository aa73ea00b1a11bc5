/** Every rule there is, in the order in which findings are told: what may be lost and what is asked first. */

import type { Rule } from "./finding.js";
import { bagOverdrawn } from "./rules/bag-overdrawn.js";
import { bagRanDry } from "./rules/bag-ran-dry.js";
import { bagUnaccounted } from "./rules/bag-unaccounted.js";
import { chamberLower } from "./rules/chamber-lower.js";
import { chamberUnread } from "./rules/chamber-unread.js";
import { chartDiffers } from "./rules/chart-differs.js";
import { doseRateDisagrees } from "./rules/dose-rate-disagrees.js";
import { endUnconfirmed } from "./rules/end-unconfirmed.js";
import { entryWithoutEffect } from "./rules/entry-without-effect.js";
import { flowUnattended } from "./rules/flow-unattended.js";
import { flowWithoutBag } from "./rules/flow-without-bag.js";
import { irrigantExceedsOutput } from "./rules/irrigant-exceeds-output.js";
import { keepOpenRunning } from "./rules/keep-open-running.js";
import { lateEntry } from "./rules/late-entry.js";
import { lineRemovedRunning } from "./rules/line-removed-running.js";
import { lossBeyondDelivery } from "./rules/loss-beyond-delivery.js";
import { noReadingAtShiftEnd } from "./rules/no-reading-at-shift-end.js";
import { outputGap } from "./rules/output-gap.js";
import { pauseNotEnded } from "./rules/pause-not-ended.js";
import { possibleDuplicate } from "./rules/possible-duplicate.js";
import { primaryNotClamped } from "./rules/primary-not-clamped.js";
import { rateImplausible } from "./rules/rate-implausible.js";
import { readingDisagrees } from "./rules/reading-disagrees.js";
import { secondaryNotEnded } from "./rules/secondary-not-ended.js";
import { segmentDisagrees } from "./rules/segment-disagrees.js";
import { shiftUnsigned } from "./rules/shift-unsigned.js";
import { signedShiftChanged } from "./rules/signed-shift-changed.js";
import { timeImplausible } from "./rules/time-implausible.js";
import { totalsAtRisk } from "./rules/totals-at-risk.js";
import { totalsLost } from "./rules/totals-lost.js";
import { unrecordedClear } from "./rules/unrecorded-clear.js";
import { weightImplausible } from "./rules/weight-implausible.js";
import { weightMissing } from "./rules/weight-missing.js";

export const RULES: readonly Rule[] = [
  totalsAtRisk,
  totalsLost,
  chamberUnread,
  readingDisagrees,
  segmentDisagrees,
  unrecordedClear,
  chamberLower,
  bagRanDry,
  lineRemovedRunning,
  endUnconfirmed,
  pauseNotEnded,
  secondaryNotEnded,
  keepOpenRunning,
  flowUnattended,
  flowWithoutBag,
  primaryNotClamped,
  rateImplausible,
  doseRateDisagrees,
  bagUnaccounted,
  noReadingAtShiftEnd,
  signedShiftChanged,
  shiftUnsigned,
  irrigantExceedsOutput,
  outputGap,
  chartDiffers,
  weightImplausible,
  weightMissing,
  possibleDuplicate,
  timeImplausible,
  entryWithoutEffect,
  lossBeyondDelivery,
  bagOverdrawn,
  lateEntry,
];
