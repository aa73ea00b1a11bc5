/** The hours of the shift that is invented over and over. */

import { HOUR } from "./story.mjs";

export const STARTS = Date.parse("2026-03-09T07:00:00Z");
export const ENDS = STARTS + 12 * HOUR;
