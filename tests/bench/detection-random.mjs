/** Chance that can be had again: the same seed makes the same shifts on every machine. */

/** A stream of numbers by its seed; drawing from one stream never moves another. */
export class Random {
  #state;

  /** @param {string} seed */
  constructor(seed) {
    this.#state = [...seed].reduce((sum, letter) => mixed(sum ^ letter.charCodeAt(0)), 1);
  }

  /** At least 0 and below 1. */
  next() {
    this.#state = (this.#state + 0x9e3779b9) >>> 0;
    return mixed(this.#state) / 2 ** 32;
  }

  between(least, most) {
    return least + (most - least) * this.next();
  }

  /** A whole number, both ends included. */
  whole(least, most) {
    return least + Math.floor((most - least + 1) * this.next());
  }

  /** True with a probability of `share`, from 0 to 1. */
  happens(share) {
    return this.next() < share;
  }

  /** @template T @param {readonly T[]} all @returns {T} */
  oneOf(all) {
    return all[Math.floor(this.next() * all.length)];
  }

  /** Of the normal distribution about 0, drawn again where it lies beyond `cut`. */
  normal(spread, cut) {
    for (;;) {
      const drawn = spread * Math.sqrt(-2 * Math.log(1 - this.next())) * Math.cos(2 * Math.PI * this.next());
      if (Math.abs(drawn) <= cut) return drawn;
    }
  }
}

/** Every bit of a number of 32 bits spread over all of them. */
function mixed(number) {
  let x = number;
  for (const shift of [16, 13, 16]) {
    x = Math.imul(x ^ (x >>> shift), 0x2c9277b5);
  }
  return (x ^ (x >>> 15)) >>> 0;
}
