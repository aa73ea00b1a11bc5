/** Irrigation: what was put in to rinse is no intake, and comes off what comes out. */

import { NOTHING, plus, shownAs, type Volume } from "../../infusion/quantity.js";
import type { Audited } from "../audited.js";
import type { Measure } from "../measure.js";

const COUNTING = "Of the encounters with irrigation, those";

/** Added up over the sites there are; null without any. */
const added = (volumeOf: (site: Audited["irrigation"][number]) => Volume) => (audited: Audited) => {
  const { irrigation, settings } = audited;
  if (irrigation.length === 0) return null;
  return shownAs(irrigation.map(volumeOf).reduce(plus, NOTHING), settings.precision);
};

export const IRRIGATION: readonly Measure[] = [
  {
    key: "irrigated-sites",
    label: "Sites irrigated",
    form: "count",
    definition: "How many sites irrigant went into in the shift, or stood in when it began.",
    counting: "Of all encounters, those with at least one.",
    over: "sum",
    take: ({ irrigation }) => irrigation.length,
  },
  {
    key: "irrigant-instilled",
    label: "Irrigant put in",
    form: "volume",
    definition: "Irrigant that went in during the shift. It is in no total.",
    counting: `${COUNTING} into which some went.`,
    over: "sum",
    take: added(({ instilled }) => instilled),
  },
  {
    key: "irrigant-retained",
    label: "Irrigant not yet emptied",
    form: "volume",
    definition:
      "Irrigant that stands at sites at the end of the shift, or now: it comes off the output when they are emptied.",
    counting: `${COUNTING} with any.`,
    over: "sum",
    take: added(({ retained }) => retained),
  },
  {
    key: "irrigant-exceeding",
    label: "Sites emptied of less than went in",
    form: "count",
    definition:
      "How often in the shift a site was emptied of less than had been put in, so that its output is negative.",
    counting: `${COUNTING} of which that happened.`,
    over: "sum",
    take: ({ irrigation, exceeding }) => (irrigation.length === 0 ? null : exceeding),
  },
];
