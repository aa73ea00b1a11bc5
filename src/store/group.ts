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

/** The writing transactions of a database, one at a time; after a failure another can be begun. */
export interface Transactions {
  begin(): void;
  /** Runs an inquiry in the open transaction; throws WritesRefused for what was decided before it. */
  converse<T>(inquiry: Inquiry<T>): T;
  /** Does what an inquiry decided, in the open transaction; later inquiries find it done. */
  write(decision: Decision<unknown>): void;
  /** Makes everything written durable; throws WritesRefused for what was decided. */
  commit(): void;
  /** Undoes the open transaction, if one is open. */
  rollback(): void;
  /** Whether an error means that the database is not to be had. */
  isOutage(error: unknown): boolean;
}

interface Waiting {
  readonly decide: () => Inquiry<Decision<unknown>>;
  readonly resolve: (answer: unknown) => void;
  readonly reject: (error: unknown) => void;
}

/** Why a group came to nothing: the writes of one of its inquiries were refused. */
export class WritesRefused {
  constructor(readonly error: unknown) {}
}

export class GroupCommit {
  readonly #transactions: Transactions;
  readonly #waiting: Waiting[] = [];
  #closed = false;

  constructor(transactions: Transactions) {
    this.#transactions = transactions;
  }

  /** Resolves with an inquiry's answer once its decision is durable; see `Store.transact`. */
  transact<T>(decide: () => Inquiry<Decision<T>>): Promise<T> {
    if (this.#closed) return Promise.reject(new StoreUnavailable("the store is closed"));
    return new Promise<T>((resolve, reject) => {
      // After the requests of this turn have been read, not after a time: waiting longer gains nothing.
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
    const group = this.#waiting.splice(0, LARGEST_GROUP);
    if (this.#waiting.length > 0) setImmediate(() => this.#nextGroup());
    if (group.length > 0) this.#settle(group);
  }

  /** Tells everyone in a group how it ended for them. */
  #settle(group: readonly Waiting[]): void {
    const failure = this.#attempt(group);
    if (failure instanceof WritesRefused) this.#settleEach(group, failure);
    // Also those an inquiry turned away: they were judged by what now never came to be.
    else if (failure !== undefined) for (const { reject } of group) reject(failure);
  }

  /** Gives each of a group a transaction of its own, until one finds the database not to be had. */
  #settleEach(group: readonly Waiting[], asGroup: WritesRefused): void {
    let outage: StoreUnavailable | undefined;
    for (const waiting of group) {
      const failure = outage ?? (group.length === 1 ? asGroup : this.#attempt([waiting]));
      if (failure instanceof StoreUnavailable) outage = failure;
      if (failure !== undefined) waiting.reject(failure instanceof WritesRefused ? failure.error : failure);
    }
  }

  /** Runs a group in one transaction and tells everyone in it; returns why, if it came to nothing. */
  #attempt(group: readonly Waiting[]): WritesRefused | StoreUnavailable | undefined {
    try {
      this.#transactions.begin();
      const ends = group.map((waiting) => this.#run(waiting));
      this.#transactions.commit();
      for (const tell of ends) tell();
      return undefined;
    } catch (failure) {
      this.#transactions.rollback();
      return failure instanceof WritesRefused ? failure : unavailable(failure);
    }
  }

  /** Runs one inquiry in the open transaction; returns how to tell who waits for it, after the commit. */
  #run({ decide, resolve, reject }: Waiting): () => void {
    let decision: Decision<unknown>;
    try {
      decision = this.#transactions.converse(decide());
    } catch (error) {
      if (error instanceof WritesRefused || this.#transactions.isOutage(error)) throw error;
      return () => reject(error);
    }
    try {
      this.#transactions.write(decision);
    } catch (error) {
      throw this.#transactions.isOutage(error) ? error : new WritesRefused(error);
    }
    return () => resolve(decision.answer);
  }
}

/** The error for those whose transaction came to nothing. */
export function unavailable(cause: unknown): StoreUnavailable {
  return new StoreUnavailable("the database is not to be had; nothing was written", { cause });
}
