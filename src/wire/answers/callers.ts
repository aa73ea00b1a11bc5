/** Who a caller is, and whether the service is well: answers about the service itself. */

import { z } from "zod";
import { Units } from "../access.js";
import { InstantText } from "../instant.js";
import { Author } from "./head.js";

export const Me = Author.extend({
  units: Units,
  session: z
    .strictObject({
      endsAt: InstantText.describe("When it ends however much it is used."),
      idleSeconds: z.int().describe("How long it lasts when nobody uses it."),
    })
    .optional()
    .describe("The session of who signed in; absent for a token."),
}).meta({ id: "Me", description: "The caller, and how long they are signed in." });

export const Health = z
  .strictObject({
    status: z
      .enum(["live", "ready"])
      .describe("`live`: the process answers; `ready`: its ledger can be read too."),
  })
  .meta({ id: "Health", description: "The service runs, or is ready for requests." });
