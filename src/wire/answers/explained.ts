/** What the answers that explain figures have in common: the period and coordinates, and volumes in mL. */

import { z } from "zod";
import { InstantText } from "../instant.js";
import { AsOf, Until } from "./head.js";

export const COORDINATES = {
  zone: z.string().describe("The zone of the unit's clocks."),
  from: InstantText,
  to: InstantText,
  asOf: AsOf,
  until: Until,
};
export const Millilitres = z.number().describe("In mL.");
export const MaybeMillilitres = z.number().nullable().describe("In mL; null where nobody knows.");
