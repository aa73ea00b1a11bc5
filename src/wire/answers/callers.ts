/** Who a token belongs to, and whether the service is well: answers about the service itself. */

import { z } from "zod";
import { Key } from "../text.js";
import { Author } from "./head.js";

export const Me = Author.extend({
  unit: Key.nullable().describe("The only unit the token is good for; null for every unit."),
}).meta({ id: "Me", description: "The caller whose token was sent." });

export const Health = z
  .strictObject({ status: z.enum(["live", "ready"]) })
  .meta({ id: "Health", description: "The service runs, or is ready for requests." });
