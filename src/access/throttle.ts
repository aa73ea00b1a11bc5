/**
 * Guesses made slow. Some failures are free, since people mistype; after that each failure doubles the
 * wait before the next attempt. An attempt counts as failed from when it begins until it has succeeded, so
 * that a thousand guesses at once are a thousand failures.
 */

import type { Clock } from "../ledger/ledger.js";

export interface Slowing {
  /** How many failures in a row cost nothing. */
  readonly free: number;
  /** The first wait and the longest, in milliseconds. */
  readonly first: number;
  readonly longest: number;
}

interface Failures {
  readonly count: number;
  readonly last: number;
}

/** After this long without an attempt nothing is held against anybody, in milliseconds. */
const FORGOTTEN_AFTER = 24 * 3_600_000;
const MOST_KEPT = 10_000;

export class Throttle {
  readonly #failures = new Map<string, Failures>();

  constructor(
    private readonly slowing: Slowing,
    private readonly clock: Clock,
  ) {}

  /** How many seconds to wait before an attempt, rounded up; 0 for none. */
  waitFor(key: string): number {
    const { count, last } = this.#of(key);
    const { free, first, longest } = this.slowing;
    if (count < free) return 0;
    const wait = Math.min(longest, first * 2 ** (count - free));
    return Math.max(0, Math.ceil((last + wait - this.clock()) / 1_000));
  }

  /** An attempt begins: until it succeeds it is one that failed. */
  begin(key: string): void {
    const { count } = this.#of(key);
    this.#failures.delete(key);
    const [oldest] = this.#failures.keys();
    if (this.#failures.size >= MOST_KEPT && oldest !== undefined) this.#failures.delete(oldest);
    this.#failures.set(key, { count: count + 1, last: this.clock() });
  }

  /** It was none: nothing is held against this key any more. */
  clear(key: string): void {
    this.#failures.delete(key);
  }

  /** This attempt was none, whatever came before it. */
  takeBack(key: string): void {
    const { count, last } = this.#of(key);
    if (count <= 1) this.#failures.delete(key);
    else this.#failures.set(key, { count: count - 1, last });
  }

  #of(key: string): Failures {
    const found = this.#failures.get(key);
    return found !== undefined && this.clock() - found.last < FORGOTTEN_AFTER
      ? found
      : { count: 0, last: Number.NEGATIVE_INFINITY };
  }
}
