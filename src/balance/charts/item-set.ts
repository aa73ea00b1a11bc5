/** A set of the ledger's items, by number: whether two have one in common is asked a million times for a large chart. */

import type { LedgerItem } from "./chart.js";

export class ItemSet {
  readonly #words: Uint32Array;

  /** An empty set of what may be any of `size` items. */
  constructor(size: number) {
    this.#words = new Uint32Array((size + 31) >>> 5);
  }

  add(number: number): void {
    this.#words[number >>> 5]! |= 1 << (number & 31);
  }

  addAll(other: ItemSet): void {
    for (let i = 0; i < this.#words.length; i++) this.#words[i]! |= other.#words[i]!;
  }

  has(number: number): boolean {
    return (this.#words[number >>> 5]! & (1 << (number & 31))) !== 0;
  }

  meets(other: ItemSet): boolean {
    for (let i = 0; i < this.#words.length; i++) {
      if ((this.#words[i]! & other.#words[i]!) !== 0) return true;
    }
    return false;
  }
}

/** The numbers of items, by their order. */
export function numbersOf(items: readonly LedgerItem[]): ReadonlyMap<LedgerItem, number> {
  return new Map(items.map((item, number) => [item, number]));
}
