/**
 * Acknowledgements: a person has seen a finding and says why it may stand. They are entries of the chain,
 * and keep the sentence and the volume that were seen: a finding that grows beyond what was acknowledged
 * is open again.
 */

import type { Found } from "../findings/finding.js";
import { minus, volumeOf } from "../infusion/quantity.js";
import { ask, type Chain, type Inquiry } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { microlitres } from "../wire/quantity.js";
import type { AcknowledgedText } from "../wire/stored.js";
import { recordedOf, statesOf } from "./families.js";
import type { Author } from "./record.js";
import type { Known } from "./replay.js";
import type { StayFacts } from "./stay.js";

export interface Acknowledgement {
  /** Of the entry that says so. */
  readonly id: string;
  readonly recordedAt: Instant;
  readonly by: Author;
  readonly body: AcknowledgedText;
}

/** The last acknowledgement of each finding that is not void, by the finding's id. */
export function* acknowledgements({ chain, upTo }: Known): Inquiry<Map<string, Acknowledgement>> {
  const last = new Map<string, Acknowledgement>();
  const rows = yield* ask({ ask: "kinds", chain, kinds: ["finding-acknowledged"], upTo });
  const states = statesOf(rows);
  for (const row of rows) {
    if (states.get(row.sequence) === "voided") continue;
    const { id, body, recordedAt, by } = recordedOf(row);
    if (body.kind === "finding-acknowledged") last.set(body.finding, { id, recordedAt, by, body });
  }
  return last;
}

/** Whether what was acknowledged still covers what is found. */
export function covers({ body }: Acknowledgement, found: Found, { conventions }: StayFacts): boolean {
  if (found.volume === null || body.volume === undefined) return true;
  const grown = minus(found.volume, volumeOf(microlitres(body.volume)));
  return grown <= volumeOf(conventions.settingsAt(found.start).chartTolerance.note);
}

export const chainOf = (encounter: string): Chain => `encounter/${encounter}`;
