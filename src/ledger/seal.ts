/**
 * Checkpoints are computed, and yet figures rest on them: each carries the digest of its text, and one
 * that is not what was written is worth nothing, and is worked out again from the entries.
 */

import { digestOf } from "./record.js";

/** The text with its digest before it. */
export function sealed(text: string): string {
  return `${digestOf(text)}\n${text}`;
}

/** What was sealed, or undefined where it has been changed since. */
export function unsealed(text: string): string | undefined {
  const end = text.indexOf("\n");
  const content = text.slice(end + 1);
  return end > 0 && text.slice(0, end) === digestOf(content) ? content : undefined;
}
