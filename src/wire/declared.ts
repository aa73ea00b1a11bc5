/**
 * What declaring a line, channel or bag says for good. Declaring a key again is no mistake (a bag is
 * hung again, a channel connected elsewhere) as long as these properties are the same.
 */

import canonicalize from "canonicalize";
import { DEFAULTS } from "./entries/defaults.js";
import type { PostedEntry } from "./entry.js";

export interface Declared {
  /** `line:…`, `channel:…` or `bag:…`. */
  readonly key: string;
  /** Canonical JSON (RFC 8785) of the properties that every declaration under the key shares. */
  readonly text: string;
}

/** The key that an entry declares and what it fixes; undefined for an entry that declares nothing. */
export function declaredProperties(posted: PostedEntry): Declared | undefined {
  switch (posted.kind) {
    case "line-placed": {
      const { line, label, site, route } = posted;
      return { key: `line:${line}`, text: canonical({ label, site, route }) };
    }
    case "channel-connected": {
      const { channel, type, rateStep, maxRate, dropFactor } = posted;
      const totals = posted.totals ?? DEFAULTS.totals;
      const clearsOn = [...new Set(posted.clearsOn ?? DEFAULTS.clearsOn)].sort();
      const text = canonical({ type, totals, clearsOn, rateStep, maxRate, dropFactor });
      return { key: `channel:${channel}`, text };
    }
    case "bag-hung": {
      const { bag, fluid, volume } = posted;
      // The order in which additives are listed says nothing.
      const additives = posted.additives?.map(canonical).sort();
      return { key: `bag:${bag}`, text: canonical({ fluid, volume, additives }) };
    }
    default:
      return undefined;
  }
}

function canonical(value: object): string {
  const text = canonicalize(value);
  if (text === undefined) throw new TypeError("not a JSON value");
  return text;
}
