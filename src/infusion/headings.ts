/** The rows that volumes are charted in: what a delivery or an amount counts under in each grouping. */

import type { Fluid, IntakeCategory } from "./entry.js";

export type Grouping = "line" | "channel" | "bag" | "category";

export interface Heading {
  /** Null for what has no key of its kind: amounts no line is named for, fluid without a bag. */
  readonly key: string | null;
  /** For rows without a key, what they hold. */
  readonly without: "line" | "channel" | "bag" | "fluid" | "origin" | null;
  /** The channel of unidentified fluid, where the grouping is by bag. */
  readonly channel: string | null;
  readonly fluid: Fluid | null;
}

/** Where something was delivered. */
export interface Origin {
  readonly channel: string;
  readonly line: string | null;
  readonly bag: string | null;
  readonly fluid: Fluid | null;
}

export function headingOf(origin: Origin, per: Grouping): Heading {
  const { channel, line, bag, fluid } = origin;
  switch (per) {
    case "line":
      return { key: line, without: line === null ? "line" : null, channel: null, fluid: null };
    case "channel":
      return { key: channel, without: null, channel: null, fluid: null };
    case "bag":
      return {
        key: bag,
        without: bag === null ? "bag" : null,
        channel: bag === null ? channel : null,
        fluid,
      };
    case "category":
      return {
        key: fluid?.category ?? null,
        without: fluid === null ? "fluid" : null,
        channel: null,
        fluid: null,
      };
    default:
      return per satisfies never;
  }
}

/** The row of an amount that somebody measured. */
export function amountHeading(
  amount: { readonly category: IntakeCategory; readonly line: string | null },
  per: Grouping,
): Heading {
  const none = { channel: null, fluid: null };
  if (per === "category") return { key: amount.category, without: null, ...none };
  if (per === "line" && amount.line !== null) return { key: amount.line, without: null, ...none };
  return { key: null, without: per === "line" ? "line" : "channel", ...none };
}

/** The row of what a reading adds and no flow can hold: its own where nobody knows which bag gave it. */
export function unattributedHeading(origin: Origin, per: Grouping): Heading {
  const heading = headingOf(origin, per);
  if (heading.key !== null) return heading;
  return { ...heading, without: "origin", channel: origin.channel };
}
