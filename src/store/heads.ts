/**
 * The heads of the chains last appended to, each with what the ledger left there. A head in here is
 * always that of committed rows: what a group of inquiries decides is staged beside them, and moves
 * in only after its commit.
 */

import type { Instant } from "../time/instant.js";
import type { Chain, Head, Row } from "./store.js";

/** How many chains are remembered; the one longest unasked goes first. */
const REMEMBERED = 2_000;

const EMPTY = { sequence: 0, recordedAt: 0 as Instant, digest: "" };

type LastRow = Omit<Head, "memory">;

export class Heads {
  readonly #committed = new Map<Chain, Head>();
  readonly #staged = new Map<Chain, Head>();
  readonly #last: (chain: Chain) => LastRow | undefined;

  /** `last` reads the last row of a chain from the database, for chains that are not remembered. */
  constructor(last: (chain: Chain) => LastRow | undefined) {
    this.#last = last;
  }

  /** The head of a chain, with the rows staged for it. */
  of(chain: Chain): Head {
    const staged = this.#staged.get(chain);
    if (staged !== undefined) return staged;
    const committed = this.#committed.get(chain);
    if (committed === undefined) return { ...(this.#last(chain) ?? EMPTY), memory: undefined };
    this.#remember(chain, committed);
    return committed;
  }

  /**
   * Stages a row as the head of its chain, with nothing left there yet.
   * Throws a RangeError unless it follows the head: the next sequence, recorded no earlier. A
   * trigger of the database says the same.
   */
  advance({ chain, sequence, recordedAt, digest }: Row): void {
    const head = this.of(chain);
    if (sequence !== head.sequence + 1) {
      throw new RangeError(`${chain}: sequence ${sequence} does not follow ${head.sequence}`);
    }
    if (recordedAt < head.recordedAt) {
      throw new RangeError(`${chain}: sequence ${sequence} is recorded before ${head.sequence}`);
    }
    this.#staged.set(chain, { sequence, recordedAt, digest, memory: undefined });
  }

  /** Stages what the ledger leaves at the head of a chain. */
  leave(chain: Chain, memory: unknown): void {
    this.#staged.set(chain, { ...this.of(chain), memory });
  }

  /** After a commit: what was staged is now so. */
  keep(): void {
    for (const [chain, head] of this.#staged) this.#remember(chain, head);
    this.#staged.clear();
  }

  /** After a failure: nothing of the chains involved is relied on any more. */
  drop(): void {
    for (const chain of this.#staged.keys()) this.#committed.delete(chain);
    this.#staged.clear();
  }

  /** After another process wrote: any chain may have rows not known here. */
  forget(): void {
    this.#committed.clear();
  }

  #remember(chain: Chain, head: Head): void {
    this.#committed.delete(chain);
    this.#committed.set(chain, head);
    if (this.#committed.size <= REMEMBERED) return;
    const [oldest] = this.#committed.keys();
    if (oldest !== undefined) this.#committed.delete(oldest);
  }
}
