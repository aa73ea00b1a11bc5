/** How the ledger's questions are answered: from what was chosen and typed to what is sent. Pure. */

import type { Disagreement, Posted, TotalAtRisk } from "../api/shapes.js";
import { numberTyped } from "../words/typed.js";
import { type Answer, type Draft, doubtName, riskName, type SecondLook } from "./draft.js";
import { type Filled, isNumber, type Ready, withAnswers, withIds } from "./request.js";

/** The answer that was chosen with what was typed into it; null while something lacks. */
export function filledBy(
  ready: Ready | undefined,
  answer: Answer | undefined,
  decimal: string,
): Filled | null {
  if (ready === undefined) return null;
  const values: Record<string, number | string> = {};
  for (const pointer of ready.fill) {
    const text = answer?.typed[pointer]?.trim() ?? "";
    const value = isNumber(pointer) ? numberTyped(text, decimal) : text === "" ? null : text;
    if (value === null) return null;
    values[pointer] = value;
  }
  return { ready, values };
}

/** A request with every total that would be lost answered for; null while one is not. Reading it is the first answer. */
export function withRisksAnswered(
  request: readonly Posted[],
  risks: readonly TotalAtRisk[],
  { answers, base }: Pick<Draft, "answers" | "base">,
  decimal: string,
): Posted[] | null {
  const filled: Filled[] = [];
  for (const risk of risks) {
    const answer = answers[riskName(risk)];
    const one = filledBy(risk.answers[answer?.choice ?? 0], answer, decimal);
    if (one === null) return null;
    filled.push(one);
  }
  return withIds(withAnswers(request, filled), `${base}.a`);
}

/** What is sent when every reading in doubt is confirmed: the device was looked at again. */
export function confirmed({ request, disagreements }: SecondLook): Posted[] {
  const filled = disagreements.flatMap(({ answers: [first] }): Filled[] =>
    first === undefined ? [] : [{ ready: first, values: {} }],
  );
  return withAnswers(request, filled);
}

/**
 * What is sent when reasons were chosen: each disagreement that has one by it, the others confirmed. Null while no
 * reason is chosen, or one lacks something.
 */
export function explained(
  { request, disagreements }: SecondLook,
  { answers, base }: Pick<Draft, "answers" | "base">,
  decimal: string,
): Posted[] | null {
  if (!disagreements.some((doubt) => answers[doubtName(doubt)])) return null;
  const filled: Filled[] = [];
  for (const doubt of disagreements) {
    const answer = answers[doubtName(doubt)];
    const ready = answer === undefined ? doubt.answers[0] : doubt.reasons[answer.choice];
    const one = filledBy(ready, answer, decimal);
    if (one === null) return null;
    filled.push(one);
  }
  return withIds(withAnswers(request, filled), `${base}.b`);
}

/** Whether something would be left to send: a reason may be that it was not read at all. */
export function hasAct({ request }: SecondLook, reason: Disagreement["reasons"][number]): boolean {
  const leavesNothing = request.length <= reason.instead.length && reason.entries.length === 0;
  return !leavesNothing && (reason.entries.length > 0 || reason.instead.length > 0);
}
