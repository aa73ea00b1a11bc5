/**
 * A device that counts: what a channel really delivers and shows, to the second, for measuring what is found
 * of it in a record that is not so exact. It shares nothing with the calculation of the ledger, and works in
 * floating point: millilitres, mL/h, milliseconds.
 */

import { HOUR } from "./story.mjs";

export class Device {
  /** Counted since the last clear, by total. */
  counts;
  /** Drawn from the primary's bag, ever. */
  drawn = 0;
  #upTo;
  #bias;
  #combined;
  #paused = false;
  #primary;
  #secondary = null;
  #bolus = null;

  /**
   * @param {{ bias: number, totals: "separate" | "combined", rate: number, begins: number, base: object }} channel
   *   `bias` is by what share it counts more than rate × time; `base` what it shows when it begins.
   */
  constructor({ bias, totals, rate, begins, base }) {
    this.#bias = 1 + bias;
    this.#combined = totals === "combined";
    this.#upTo = begins;
    this.#primary = { rate, left: Number.POSITIVE_INFINITY };
    this.counts = { ...base };
  }

  /** Delivers up to an instant. A volume to infuse is complete by the device's own count. */
  comeTo(at) {
    while (this.#upTo < at) {
      const source = this.#bolus ?? this.#secondary ?? this.#primary;
      const perMillisecond = this.#paused ? 0 : (source.rate * this.#bias) / HOUR;
      const volume = Math.min(source.left, perMillisecond * (at - this.#upTo));
      this.#count(source, volume);
      source.left -= volume;
      const done = source.left <= 0;
      this.#upTo = done ? Math.min(at, this.#upTo + volume / perMillisecond) : at;
      if (done && source === this.#bolus) this.#bolus = null;
      else if (done) this.#secondary = null;
    }
    return this;
  }

  /** What somebody does to it now. */
  do(event) {
    switch (event.kind) {
      case "rate":
        this.#primary.rate = event.rate;
        break;
      case "secondary":
        this.#secondary = { rate: event.rate, left: event.volume };
        break;
      case "bolus":
        this.#bolus = { rate: event.rate, left: event.volume };
        break;
      case "pause":
        this.#paused = true;
        break;
      case "resume":
        this.#paused = false;
        break;
      case "clear":
        for (const total of Object.keys(this.counts)) this.counts[total] = 0;
        if (event.rate !== undefined) this.#primary.rate = event.rate;
        break;
    }
  }

  /** What the display shows of each total, in whole microlitres: tenths of a millilitre, the rest cut off. */
  shows() {
    const tenths = (volume) => Math.floor(volume * 10 + 1e-9) * 100;
    return Object.fromEntries(Object.entries(this.counts).map(([total, volume]) => [total, tenths(volume)]));
  }

  #count(source, volume) {
    const secondary = source === this.#secondary;
    if (!secondary) this.drawn += volume;
    this.counts[this.#combined ? "combined" : secondary ? "secondary" : "primary"] += volume;
  }
}
