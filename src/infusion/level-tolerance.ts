/** How far what a bag holds may lie from what was computed to be left in it before somebody should look. */

import type { Settings } from "../conventions/settings.js";
import type { LevelJudged } from "./evidence.js";
import { greater, percentOf, type Volume, volumeOf } from "./quantity.js";

/** What is worth a look of a bag with such a label: the larger of a volume and a share of it, by the unit's settings. */
export function worthALook(label: Volume, { unaccountedAbove }: Settings): Volume {
  return greater(volumeOf(unaccountedAbove.volume), percentOf(label, unaccountedAbove.percent));
}

type Level = Pick<LevelJudged, "method" | "label">;

/** How far a level that was read may be off by how it was told; an estimate is no surer than the bag's scale. */
export function levelTolerance({ method, label }: Level, { levelTolerance: percent }: Settings): Volume {
  return percentOf(label, method === "weighed" ? percent.weighed : percent.scale);
}

/**
 * How far it may lie from what was computed before somebody should look: what is worth a look of the bag, and
 * never less than its method can tell.
 */
export function levelWorthALook(level: Level, settings: Settings): Volume {
  return greater(worthALook(level.label, settings), levelTolerance(level, settings));
}
