/** The two sides of the fluid balance: what counts as intake, what as output. */

import { z } from "zod";

export const IntakeCategory = z
  .enum([
    "iv-fluid",
    "iv-medication",
    "iv-push",
    "iv-flush",
    "blood-product",
    "parenteral-nutrition",
    "oral",
    "enteral-feed",
    "enteral-water",
    "other-intake",
  ])
  .meta({ id: "IntakeCategory", description: "What kind of intake it counts as." });

export const OutputCategory = z
  .enum([
    "urine",
    "gastric",
    "emesis",
    "stool",
    "drain",
    "chest-drain",
    "blood-loss",
    "fluid-removal",
    "other-output",
  ])
  .meta({ id: "OutputCategory", description: "What kind of output it counts as." });
