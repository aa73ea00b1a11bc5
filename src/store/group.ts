/**
 * Group commit: inquiries that wait at the same time share one transaction and so one flush to
 * disk. They run in the order in which they came, each to its end; whoever waits hears nothing
 * before the commit, and hears of success only after it.
 *
 * What one inquiry does wrong is its own affair. If its writes are refused, the transaction is
 * rolled back and every inquiry of the group starts anew in a transaction of its own, so that only
 * the guilty one fails; if the database itself fails, all of them do.
 */

import { type Decision, type Inquiry, StoreUnavailable } from "./store.js";

/** A bound on how long one group may hold the tick and the write lock. */
export const LARGEST_GROUP = 256;

/** The transactions of a database. Whatever they throw, they can be begun again. */
export interface Transactions {
  /** Opens a transaction that writes. */
  begin(): void;
  /** Runs an inquiry in the open transaction. */
  converse<T>(inquiry: Inquiry<T>): T;
  /** Does what an inquiry decided, in the open transaction. */
  write(decision: Decision<unknown>): void;
  /** Makes everything written durable. */
  commit(): void;
  /** Undoes the open transaction, if it is still open. */
  rollback(): void;
  /** Whether an error means that the database is not to be had. */
  isOutage(error: unknown): boolean;
}

interface Waiting {
  readonly decide: () => Inquiry<Decision<unknown>>;
  readonly resolve: (answer: unknown) => void;
  readonly reject: (error: unknown) => void;
}

/** The writes of one inquiry of a group were refused. */
class Refused {
  constructor(readonly error: unknown) {}
}

export class GroupCommit {
  readonly #transactions: Transactions;
  #waiting: Waiting[] = [];
  #closed = false;

  constructor(transactions: Transactions) {
    this.#transactions = transactions;
  }

  /** Resolves with an inquiry's answer once its decision is durable; see `Store.transact`. */
  transact<T>(decide: () => Inquiry<Decision<T>>): Promise<T> {
    if (this.#closed) return Promise.reject(new StoreUnavailable("the store is closed"));
    return new Promise<T>((resolve, reject) => {
      // After the requests of this turn have been read, not after a time: a timer gains nothing.
      if (this.#waiting.length === 0) setImmediate(() => this.#nextGroup());
      this.#waiting.push({ decide, resolve: resolve as (answer: unknown) => void, reject });
    });
  }

  /** Carries out everything that waits, and accepts nothing more. */
  close(): void {
    this.#closed = true;
    while (this.#waiting.length > 0) this.#settle(this.#waiting.splice(0, LARGEST_GROUP));
  }

  #nextGroup(): void {
    if (this.#waiting.length === 0) return;
    const group = this.#waiting.splice(0, LARGEST_GROUP);
    if (this.#waiting.length > 0) setImmediate(() => this.#nextGroup());
    this.#settle(group);
  }

  #settle(group: readonly Waiting[]): void {
    const outcome = this.#attempt(group);
    if (!(outcome instanceof Refused)) return outcome();
    const [only] = group;
    if (only !== undefined && group.length === 1) return only.reject(outcome.error);
    for (const waiting of group) this.#settle([waiting]);
  }

  /** Runs a group in one transaction; returns how to tell those who wait, or whose writes were refused. */
  #attempt(group: readonly Waiting[]): Refused | (() => void) {
    try {
      this.#transactions.begin();
      const outcomes = group.map((waiting) => this.#run(waiting));
      this.#transactions.commit();
      return () => {
        for (const tell of outcomes) tell();
      };
    } catch (error) {
      this.#transactions.rollback();
      if (error instanceof Refused) return error;
      // Those an inquiry turned away as well: they were judged by what now never came to be.
      return () => {
        for (const { reject } of group) reject(unavailable(error));
      };
    }
  }

  #run({ decide, resolve, reject }: Waiting): () => void {
    let decision: Decision<unknown>;
    try {
      decision = this.#transactions.converse(decide());
    } catch (error) {
      if (this.#transactions.isOutage(error)) throw error;
      return () => reject(error);
    }
    try {
      this.#transactions.write(decision);
    } catch (error) {
      throw this.#transactions.isOutage(error) ? error : new Refused(error);
    }
    return () => resolve(decision.answer);
  }
}

/** The error for those whose transaction came to nothing. */
export function unavailable(cause: unknown): StoreUnavailable {
  return new StoreUnavailable("the database could not be written; nothing was recorded", { cause });
}
