/** Ice was charted whole: it melts to the share of its volume that the unit counts, half unless it says otherwise. */

import { chartedWhole } from "../charted-whole.js";
import type { FindSlips } from "../slip.js";

export const iceWhole: FindSlips = (asked) =>
  chartedWhole(asked, "intake", {
    kind: "ice-whole",
    tell: (what, whole) =>
      `${what} seems to be charted whole, as ${whole}: ice counts by what it melts to, soft foods by the unit's share.`,
  });
