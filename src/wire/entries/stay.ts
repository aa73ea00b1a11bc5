/** What concerns the patient and no channel: time away from the unit, and body weight. */

import { z } from "zod";
import { Weight } from "../quantity.js";
import { words } from "../text.js";
import { kind } from "./kind.js";

const Place = words("Where the patient is, such as theatre.");

export const AwayStarted = kind(
  "away-started",
  {
    description: "The patient leaves the unit for a while, such as for an operation.",
    example: { place: "Theatre", flows: "unknown" },
  },
  {
    place: Place,
    flows: z.enum(["go-on", "unknown"]).describe("Whether the flows go on as charted, or nobody here knows."),
  },
);

export const AwayEnded = kind(
  "away-ended",
  { description: "The patient is back.", example: {} },
  { place: Place.optional() },
);

export const WeightMeasured = kind(
  "weight-measured",
  { description: "The patient was weighed.", example: { weight: { value: 72.4, unit: "kg" } } },
  { weight: Weight },
);
