/**
 * The demo's scenario: an invented unit and three shifts of its patients' records as JSON bodies of the
 * public API, ready to be recorded one post after the other by a clock set to each.
 *
 * Invariant: the same instant always gives the same scenario, and nothing in it is recorded, or
 * happens, after that instant.
 */

import type { Instant } from "../time/instant.js";
import type { Scenario } from "./bodies.js";
import { bowelSurgery } from "./stays/bowel-surgery.js";
import { cellulitis } from "./stays/cellulitis.js";
import { gastricBleed } from "./stays/gastric-bleed.js";
import { heartFailure } from "./stays/heart-failure.js";
import { ketoacidosis } from "./stays/ketoacidosis.js";
import { lungEmbolism } from "./stays/lung-embolism.js";
import { septicShock } from "./stays/septic-shock.js";
import { tubeFeeding } from "./stays/tube-feeding.js";
import { ventilatedPneumonia } from "./stays/ventilated-pneumonia.js";
import type { Story } from "./story.js";
import { encounterOf, tellingUpTo, UNIT } from "./telling.js";

export type { Author, Change, EncounterBody, Post, Scenario, ScenarioEncounter, UnitBody } from "./bodies.js";

const STORIES: readonly Story[] = [
  septicShock,
  ketoacidosis,
  lungEmbolism,
  bowelSurgery,
  gastricBleed,
  tubeFeeding,
  ventilatedPneumonia,
  heartFailure,
  cellulitis,
];

/**
 * The unit and its patients over the shift that contains `now` and the two before it, up to `now`.
 *
 * The stories run in elapsed time from the start of the first shift. So a running total is what the
 * rates come to on every date; where the clocks change within the three shifts, what is told of the later
 * ones lies an hour off their starts.
 */
export function scenario(now: Instant): Scenario {
  const telling = tellingUpTo(now);
  const encounters = STORIES.filter((story) => telling.instantOf(story.admitted) <= now);
  return { unit: UNIT, encounters: encounters.map((story) => encounterOf(story, telling)) };
}
