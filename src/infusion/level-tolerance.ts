/** How far what a bag holds may lie from what was computed to be left in it before somebody should look. */

import type { Settings } from "../conventions/settings.js";
import type { LevelJudged } from "./evidence.js";
import { greater, percentOf, type Volume, volumeOf } from "./quantity.js";

/** What is worth a look of a bag with such a label: the larger of a volume and a share of it, by the unit's settings. */
export function worthALook(label: Volume, { unaccountedAbove }: Settings): Volume {
  return greater(volumeOf(unaccountedAbove.volume), percentOf(label, unaccountedAbove.percent));
}

/** The same of a level that was read, by how it was told: an estimate is no surer than the bag's scale. */
export function levelTolerance(
  { method, label }: Pick<LevelJudged, "method" | "label">,
  settings: Settings,
): Volume {
  const { weighed, scale } = settings.levelTolerance;
  return greater(worthALook(label, settings), percentOf(label, method === "weighed" ? weighed : scale));
}
