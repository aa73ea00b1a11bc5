/**
 * The log of accesses: who read and wrote what of which encounter, and how it ended. What was noted waits
 * in memory and is written together with whatever else is being recorded, so that nobody waits for it.
 *
 * A crash loses what was noted in the last second, and nothing else of the record: what was written stands
 * in the encounter's own chain with its author. While the database cannot be written, notes are kept up to
 * a bound; beyond it nobody reads any more, rather than reading unseen.
 */

import type { Clock } from "../ledger/ledger.js";
import { done, type Outcome, refused } from "../ledger/refusal.js";
import type { Access, LoggedAboutAccount, LoggedAccess } from "../store/callers.js";
import { ask, type Inquiry, type Store, StoreUnavailable } from "../store/store.js";
import { instant } from "../time/instant.js";

/** After how long what was noted is written, in milliseconds, and after how many notes at once. */
const WRITTEN_AFTER = 1_000;
const WRITTEN_AT = 200;
/** The most that waits while the database cannot be written. */
const MOST_WAITING = 10_000;

export interface AccessPage<T> {
  readonly accesses: readonly T[];
  /** Where the next page begins, if there is one. */
  readonly next: string | undefined;
}

export class AccessLog {
  #waiting: Access[] = [];
  #timer: NodeJS.Timeout | undefined;
  #writing: Promise<void> = Promise.resolve();

  constructor(
    private readonly store: Pick<Store, "transact" | "read">,
    private readonly clock: Clock,
    /** Told why notes could not be written; they are kept and written later. */
    private readonly complain: (error: unknown) => void = () => {},
  ) {}

  /** Throws StoreUnavailable while no more can be noted. */
  mustHaveRoom(): void {
    if (this.#waiting.length >= MOST_WAITING)
      throw new StoreUnavailable("the log of accesses cannot be written");
  }

  note(access: Omit<Access, "at">): void {
    this.#waiting.push({ ...access, at: instant(this.clock()) });
    if (this.#waiting.length % WRITTEN_AT === 0) void this.#tried();
    this.#timer ??= setTimeout(() => void this.#tried(), WRITTEN_AFTER).unref();
  }

  /** Writes everything noted so far; rejects with StoreUnavailable where it cannot be, and keeps it. */
  flush(): Promise<void> {
    const next = this.#writing.then(() => this.#write());
    this.#writing = next.catch(() => {});
    return next;
  }

  /** Who read and wrote of an encounter, the last first; `after` is where the page before ended. */
  of(encounter: string, after: string | null, limit: number): Promise<Outcome<AccessPage<LoggedAccess>>> {
    return this.#page(after, limit, (page) => ask({ ask: "accesses", encounter, ...page }));
  }

  /** Who read lists and audits of a unit, likewise. */
  ofUnit(unit: string, after: string | null, limit: number): Promise<Outcome<AccessPage<LoggedAccess>>> {
    return this.#page(after, limit, (page) => ask({ ask: "unit-accesses", unit, ...page }));
  }

  /** Who signed in, and what was done to accounts, likewise. */
  ofAccounts(after: string | null, limit: number): Promise<Outcome<AccessPage<LoggedAboutAccount>>> {
    return this.#page(after, limit, (page) => ask({ ask: "account-accesses", ...page }));
  }

  async #page<T extends { readonly place: number }>(
    after: string | null,
    limit: number,
    asking: (page: { before: number; limit: number }) => Inquiry<readonly T[]>,
  ): Promise<Outcome<AccessPage<T>>> {
    const before = after === null ? Number.MAX_SAFE_INTEGER : Number(after);
    if (!Number.isSafeInteger(before) || before < 1) {
      const detail = "`after` is not what a page's `next` says.";
      return refused({
        problem: "bad-parameter",
        errors: [{ parameter: "after", code: "wrong-form", detail }],
      });
    }
    await this.flush();
    const found = await this.store.read(() => asking({ before, limit: limit + 1 }));
    const accesses = found.slice(0, limit);
    const next = found.length > limit ? String(accesses.at(-1)!.place) : undefined;
    return done({ accesses, next });
  }

  async #tried(): Promise<void> {
    await this.flush().catch(this.complain);
  }

  async #write(): Promise<void> {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    const noted = this.#waiting;
    if (noted.length === 0) return;
    const writes = noted.map((access) => ({ write: "access" as const, access }));
    this.#waiting = [];
    try {
      // biome-ignore lint/correctness/useYield: there is nothing to ask before this is written
      await this.store.transact(function* () {
        return { writes, answer: undefined };
      });
    } catch (error) {
      this.#waiting = [...noted, ...this.#waiting];
      this.#timer ??= setTimeout(() => void this.#tried(), WRITTEN_AFTER).unref();
      throw error;
    }
  }
}
