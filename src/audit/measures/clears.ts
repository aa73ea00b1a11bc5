/** Running totals that were cleared and that nobody had written down. */

import { clearsUnread } from "../../findings/rules/totals-lost.js";
import { NOTHING, plus, shownAs } from "../../infusion/quantity.js";
import type { Audited } from "../audited.js";
import type { Measure } from "../measure.js";

function unread({ collected, segments, settingsAt, state, until, has }: Audited) {
  return clearsUnread({ collected, segments, settingsAt, state, until }).filter(([clear]) => has(clear!.at));
}

const DEFINITION =
  "Clears in the shift of running totals (by a therapy change, a reset, a disconnection or a device's own doing) that held more than the unit asks about and that neither a reading nor the device's own segments had told";

export const CLEARS: readonly Measure[] = [
  {
    key: "clears-unread",
    label: "Clears without a reading",
    form: "count",
    definition: `${DEFINITION}, whether a reason was given or not.`,
    counting: "Of all encounters, those with at least one.",
    over: "sum",
    take: (audited) => unread(audited).length,
  },
  {
    key: "clears-unread-volume",
    label: "Volume behind clears without a reading",
    form: "volume",
    definition: `${DEFINITION}: the volume that rests on the computation alone. What was counted at an unknown rate has none.`,
    counting: "Of all encounters, those with any such volume.",
    over: "sum",
    take: (audited) => {
      const lost = unread(audited).flat();
      const known = lost.filter(({ written }) => !written.atLeast);
      const volume = known.reduce((sum, { written }) => plus(sum, written.since), NOTHING);
      return shownAs(volume, audited.settings.precision);
    },
  },
];
