/** What lines that irrigate gave to their sites over time, as it was read, less what was lost on the way. */

import type { Delivery, Unattributed } from "../infusion/delivery.js";
import type { UnknownSpan } from "../infusion/flow.js";
import { minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import { type Instant, instant, type Period } from "../time/instant.js";
import { CERTAIN, type Certainty } from "./certainty.js";
import { givenIn, type Losses } from "./lost.js";
import type { Sites } from "./sites.js";

/** What channels gave, by finest row, and what was read of it that no row can hold. */
export interface Given {
  readonly rows: readonly (readonly Delivery[])[];
  readonly unattributed: readonly Unattributed[];
  readonly unknown: readonly UnknownSpan[];
}

export interface Ran {
  readonly volume: Volume;
  readonly certainty: Certainty;
}

/** Before anything ran. */
export const BEGINNING = instant(0);

export class Inflow {
  private readonly sites = new Map<string, { -readonly [K in keyof Given]: Given[K][number][] }>();

  constructor(
    given: Given,
    private readonly losses: Losses,
    sites: Sites,
  ) {
    const at = (line: string | null) => {
      const site = sites.irrigatedBy(line);
      if (site === null) return null;
      const own = this.sites.get(site) ?? { rows: [], unattributed: [], unknown: [] };
      this.sites.set(site, own);
      return own;
    };
    for (const row of given.rows) at(row[0]!.line)?.rows.push(row);
    for (const one of given.unattributed) at(one.line)?.unattributed.push(one);
    for (const span of given.unknown) at(span.line)?.unknown.push(span);
  }

  /** The sites that any line gave something to. */
  get irrigated(): readonly string[] {
    return [...this.sites.keys()];
  }

  /** What ran into a site after one instant and up to another. */
  between(site: string, from: Instant, to: Instant): Ran {
    const own = this.sites.get(site);
    if (own === undefined || from >= to) return { volume: NOTHING, certainty: CERTAIN };
    const read = own.unattributed.filter(({ at }) => from < at && at <= to);
    const volumes = [
      ...own.rows.map((row) => minus(givenIn(row, from, to), this.losses.takenOff(row, from, to))),
      ...read.map((one) => minus(one.volume, this.losses.takenOffAmount(one))),
    ];
    const meets = ({ start, end }: Period) => start < to && from < end;
    const more = own.unknown.some(meets);
    const less =
      own.rows.some((row) => this.losses.unknown(row).some(meets)) ||
      read.some((one) => this.losses.unknown(one).length > 0);
    return { volume: volumes.reduce(plus, NOTHING), certainty: { more, less } };
  }
}
