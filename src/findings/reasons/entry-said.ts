/** How sentences name what is charted on a channel. */

import type { EntryKind } from "../../infusion/entry.js";

/** What sets, holds or ends a flow, and so has a time of its own that may be off. */
export const SETTING: Readonly<Partial<Record<EntryKind, string>>> = {
  "flow-started": "start",
  "rate-changed": "change of rate",
  "flow-paused": "pause",
  "flow-resumed": "going on",
  "flow-stopped": "stop",
  "secondary-ended": "end of the secondary",
};

const SAID: Readonly<Partial<Record<EntryKind, string>>> = {
  ...SETTING,
  "volume-to-infuse-set": "volume to infuse",
  "secondary-started": "secondary infusion",
  "bolus-started": "bolus",
  "bolus-stopped": "end of the bolus",
  "bag-hung": "bag",
  "totals-reset": "clear",
  "therapy-changed": "change of therapy",
  "total-read": "reading",
};

/** Such as "change of rate"; "entry" of what has no name of its own here. */
export function entrySaid(kind: EntryKind): string {
  return SAID[kind] ?? "entry";
}
