/** What a figure rests on. */

import { z } from "zod";

export const Basis = z.enum(["measured", "apportioned", "computed", "disputed", "unknown"]).meta({
  id: "Basis",
  description:
    "What a figure rests on, the weakest of its parts: readings at both ends; a longer span between readings; rate and time alone; a reading that disagrees; or minutes of which nobody knows, so that it is a lower bound.",
});
