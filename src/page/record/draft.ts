/**
 * What is being recorded, before it is: what is typed and chosen, when it happened, how questions are answered, and
 * the second look that was asked for. Pure: what somebody does to a draft makes another one.
 */

import type { Disagreement, Posted, TotalAtRisk } from "../api/shapes.js";
import { NOW, type TimeChoice } from "./time.js";

/** Texts as they are typed, and values as they are chosen. */
export type Values = Readonly<Record<string, string>>;

/** How a question is answered: which of its answers, and what is typed into it, by pointer. */
export interface Answer {
  readonly choice: number;
  readonly typed: Values;
}

/** Readings that disagree, and the request in which they did. */
export interface SecondLook {
  readonly request: readonly Posted[];
  readonly disagreements: readonly Disagreement[];
}

export interface Draft {
  /** What ids are made of. */
  readonly base: string;
  readonly values: Values;
  readonly time: TimeChoice;
  readonly answers: Readonly<Record<string, Answer>>;
  readonly secondLook: SecondLook | null;
}

export type Change =
  | { readonly do: "put"; readonly field: string; readonly text: string }
  | { readonly do: "time"; readonly time: TimeChoice }
  | { readonly do: "answer"; readonly question: string; readonly choice: number }
  | { readonly do: "fill"; readonly question: string; readonly pointer: string; readonly text: string }
  /** It was sent as of `at`: from here on "now" is that. */
  | { readonly do: "sent"; readonly at: string }
  | { readonly do: "doubted"; readonly secondLook: SecondLook }
  | { readonly do: "back" };

export function newDraft(base: string, values: Values, time: TimeChoice = NOW): Draft {
  return { base, values, time, answers: {}, secondLook: null };
}

export function changed(draft: Draft, change: Change): Draft {
  switch (change.do) {
    case "put":
      // What is another number needs no second look of the one before.
      return { ...looked(draft), values: { ...draft.values, [change.field]: change.text } };
    case "time":
      return { ...looked(draft), time: change.time };
    case "answer": {
      const typed = draft.answers[change.question]?.typed ?? {};
      const answer = { choice: change.choice, typed };
      return { ...draft, answers: { ...draft.answers, [change.question]: answer } };
    }
    case "fill": {
      const before = draft.answers[change.question] ?? { choice: 0, typed: {} };
      const answer = { ...before, typed: { ...before.typed, [change.pointer]: change.text } };
      const next = isDoubt(change.question) ? draft : looked(draft);
      return { ...next, answers: { ...next.answers, [change.question]: answer } };
    }
    case "sent":
      return "ago" in draft.time ? { ...draft, time: { ...draft.time, held: change.at } } : draft;
    case "doubted":
      return { ...draft, secondLook: change.secondLook };
    case "back":
      return looked(draft);
    default:
      return change satisfies never;
  }
}

/** Without a second look, and without what was answered to it. */
function looked(draft: Draft): Draft {
  if (draft.secondLook === null) return draft;
  const kept = Object.entries(draft.answers).filter(([question]) => !isDoubt(question));
  return { ...draft, secondLook: null, answers: Object.fromEntries(kept) };
}

/** A question's name, the same when it is asked again with other numbers. */
export function riskName({ channel, total, chamber }: TotalAtRisk): string {
  return ["risk", channel, total, chamber].join(" ");
}

export function doubtName({ channel, total, chamber, entry }: Disagreement): string {
  return ["doubt", channel, total, chamber, entry].join(" ");
}

function isDoubt(question: string): boolean {
  return question.startsWith("doubt ");
}
