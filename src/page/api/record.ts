/**
 * Recording entries, and asking first what that would do. All that the pages record goes through `record`, and what
 * is asked back comes out as questions: totals that would be lost, readings that disagree.
 */

import { client } from "./client.js";
import { answerOf, Refused } from "./problems.js";
import type { Disagreement, DryRun, Posted, Recorded, TotalAtRisk } from "./shapes.js";

/** What the ledger asks before it records something. */
export interface Questions {
  readonly atRisk: readonly TotalAtRisk[];
  readonly disagreements: readonly Disagreement[];
}

/** Records entries that carry their own ids: sent again they are recorded once. */
export async function record(encounter: string, entries: readonly Posted[]): Promise<Recorded> {
  const params = { path: { encounter } };
  const body = { entries: [...entries] };
  return (await answerOf(client.POST("/v1/encounters/{encounter}/entries", { params, body }))) as Recorded;
}

export type Tried =
  /** What recording would do. */
  | { readonly would: DryRun; readonly asked: null }
  /** What is asked first. */
  | { readonly would: null; readonly asked: Questions };

/** What recording entries would do, or what is asked first; nothing is recorded. */
export async function tried(
  encounter: string,
  entries: readonly Posted[],
  signal: AbortSignal,
): Promise<Tried> {
  const params = { path: { encounter }, query: { dryRun: true } };
  const body = { entries: [...entries] };
  try {
    const would = await answerOf(client.POST("/v1/encounters/{encounter}/entries", { params, body, signal }));
    return { would: would as DryRun, asked: null };
  } catch (failure) {
    const asked = questionsIn(failure);
    if (asked === null) throw failure;
    return { would: null, asked };
  }
}

/** The questions of a refusal; null where it is another. */
export function questionsIn(failure: unknown): Questions | null {
  if (!(failure instanceof Refused)) return null;
  const { type } = failure.problem;
  if (type !== "/problems/totals-at-risk" && type !== "/problems/reading-disagrees") return null;
  const { atRisk = [], disagreements = [] } = failure.problem as Partial<Questions>;
  return { atRisk, disagreements };
}
