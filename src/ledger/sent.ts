/** Entries of a request as they were sent, for the questions that are asked about them. */

import type { Row } from "../store/store.js";
import type { StoredBody } from "../wire/stored.js";
import type { Sent } from "./asked-of.js";
import type { Draft } from "./drafts.js";
import { recordedOf } from "./families.js";
import type { Amending } from "./proposals.js";

/** Whether a draft says what happened: of a void and a decision nobody is asked, what comes of them is found. */
export function tells({ entry }: Draft): boolean {
  return entry.kind !== "entry-voided" && entry.kind !== "variance-settled";
}

/** Where a draft stands in the request, and the fact it tells. */
export function sentAs({ index, entry, sent }: Draft): Sent {
  const whole = sent as object;
  if (entry.kind !== "entry-amended") {
    return { index, sent: whole, saying: (more) => ({ ...whole, ...more }), within: "" };
  }
  const { replacement } = whole as { readonly replacement: object };
  const saying = (more: object) => ({ ...whole, replacement: { ...replacement, ...more } });
  return { index, sent: replacement, saying, within: "/replacement" };
}

/** What a proposal would amend: an entry of the request, or one that the request corrects. */
export function amending(
  id: string,
  drafts: readonly Draft[],
  families: readonly Row[],
): Amending | undefined {
  const row = families.find((one) => one.id === id);
  // What the request itself amends is mended there: a second amendment beside it would leave the first as it was sent.
  const draft = drafts.findLast(
    ({ id: own, root, entry }) =>
      own === id || (row !== undefined && root === row.sequence && entry.kind === "entry-amended"),
  );
  if (draft !== undefined) {
    const { index, sent, saying } = sentAs(draft);
    return { body: sent as StoredBody, recorded: false, index, saying };
  }
  return row === undefined ? undefined : { body: recordedOf(row).body, recorded: true };
}
