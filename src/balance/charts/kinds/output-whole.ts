/** Output was charted as it was drained, before what was instilled or returned was taken off. */

import { chartedWhole } from "../charted-whole.js";
import type { FindSlips } from "../slip.js";

export const outputWhole: FindSlips = (asked) =>
  chartedWhole(asked, "output", {
    kind: "output-whole",
    tell: (what, whole) =>
      `${what} seems to be charted as drained, ${whole}: take off the irrigant, or what was returned.`,
  });
