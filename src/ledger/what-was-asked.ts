/** What a piece of work asked the store for, and whether a row that was recorded since would be in an answer to that. */

import type { Ask, Row } from "../store/store.js";
import type { Instant } from "../time/instant.js";

/** What a piece of work asked for. */
export interface Asked {
  /** The spans of entries, by when they happened; one that reached to the present goes on with it. */
  readonly spans: { readonly from: Instant; readonly to: Instant | null }[];
  readonly keys: Set<string>;
  readonly kinds: Set<string>;
  /** Device segments, and signatures, that end after the earliest of these. */
  segmentsAfter: number;
  signaturesAfter: number;
  /** Whatever was corrected. */
  corrected: boolean;
}

/** What people do about the figures, which is none of what happened. */
const ACTS: readonly string[] = ["finding-acknowledged", "shift-signed", "chart-posted"];

export function nothingAsked(): Asked {
  return {
    spans: [],
    keys: new Set(),
    kinds: new Set(),
    segmentsAfter: Number.POSITIVE_INFINITY,
    signaturesAfter: Number.POSITIVE_INFINITY,
    corrected: false,
  };
}

/** Notes a question of work that goes as far as `until`; false for one whose answers cannot be told by rows. */
export function noted(question: Ask, asked: Asked, until: Instant): boolean {
  switch (question.ask) {
    case "span": {
      const { from, to } = question;
      asked.spans.push({ from, to: to > until ? null : to });
      return true;
    }
    case "declares":
      for (const key of question.keys) asked.keys.add(key);
      return true;
    case "kinds":
      for (const kind of question.kinds) asked.kinds.add(kind);
      return true;
    case "corrected":
      asked.corrected = true;
      return true;
    case "segments":
      asked.segmentsAfter = Math.min(asked.segmentsAfter, question.after);
      return true;
    case "signatures":
      asked.signaturesAfter = Math.min(asked.signaturesAfter, question.after);
      return true;
    // A checkpoint that holds is what following the entries would give: which one is there changes nothing.
    case "checkpoint":
      return true;
    default:
      return false;
  }
}

/** Whether a row that happens only now, and was recorded before, would be in an answer: it is where that reaches to now. */
export function goesOn({ spans }: Asked, { kind }: Row): boolean {
  return !ACTS.includes(kind) && spans.some(({ to }) => to === null);
}

/** Whether a row would be in an answer to what was asked. */
export function isIn({ kind, at, declares, root }: Row, asked: Asked): boolean {
  if (asked.corrected && root !== null) return true;
  if (asked.kinds.has(kind)) return true;
  if (declares !== null && asked.keys.has(declares)) return true;
  if (at === null) return false;
  if (kind === "shift-signed" && at > asked.signaturesAfter) return true;
  if (kind === "segment-read" && at > asked.segmentsAfter) return true;
  if (ACTS.includes(kind)) return false;
  return asked.spans.some(({ from, to }) => from <= at && (to === null || at < to));
}
