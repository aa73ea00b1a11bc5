/**
 * The synchronous conversation between an inquiry and the database: who answers which ask, who does
 * which write. Each table answers for its own asks; together they must cover every one, or the
 * program does not compile.
 */

import type { Answers, Ask, Inquiry, Write } from "./store.js";

export type AskOf<K extends Ask["ask"]> = Extract<Ask, { readonly ask: K }>;
export type WriteOf<K extends Write["write"]> = Extract<Write, { readonly write: K }>;

/** How asks are answered, by name. */
export type Answering<K extends Ask["ask"] = Ask["ask"]> = {
  readonly [A in K]: (ask: AskOf<A>) => Answers[A];
};

/** How writes are done, by name. */
export type Writing<K extends Write["write"] = Stored["write"]> = {
  readonly [W in K]: (write: WriteOf<W>) => void;
};

/** The writes that go to the database: what the ledger leaves at a head stays in memory. */
export type Stored = Exclude<Write, { readonly write: "memory" }>;

/**
 * Drives an inquiry to its end within the present tick; `before` runs before each answer.
 * Throws what the inquiry throws, and what the database throws while answering: the inquiry is then
 * left where it stands, since a broken database is not its to handle.
 */
export function converse<T>(
  inquiry: Inquiry<T>,
  answering: Answering,
  before: (ask: Ask) => void = () => {},
): T {
  let step = inquiry.next();
  while (!step.done) {
    before(step.value);
    step = inquiry.next(answered(answering, step.value));
  }
  return step.value;
}

function answered<K extends Ask["ask"]>(answering: Answering, ask: AskOf<K>): Answers[K] {
  const answer = answering[ask.ask] as (ask: AskOf<K>) => Answers[K];
  return answer(ask);
}

/** Does writes in their order. */
export function carryOut(writes: readonly Stored[], writing: Writing): void {
  for (const write of writes) (writing[write.write] as (write: Stored) => void)(write);
}
