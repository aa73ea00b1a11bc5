/**
 * Chambers: what drains collect in. A chamber is a counter without a rate; what it gained counts in
 * the interval of its reading. An emptying without a level is unknown, never 0.
 */

import { z } from "zod";
import { Volume } from "../quantity.js";
import { Key } from "../text.js";
import { OutputCategory } from "./categories.js";
import { ClearedTotals } from "./clears.js";
import { kind } from "./kind.js";

const Chamber = Key.describe("The chamber, drain bag or canister.");
const Level = Volume.describe("What it holds, in mL, at most 3 decimals.");
const Category = OutputCategory.describe("What its contents count as.");

export const ChamberPlaced = kind(
  "chamber-placed",
  {
    description: "A chamber is there and begins to collect.",
    example: { chamber: "chest-left", category: "chest-drain", level: 0 },
  },
  {
    chamber: Chamber,
    category: Category,
    level: Level.optional().describe("What it held when placed, in mL; absent: nothing."),
  },
);

export const ChamberRead = kind(
  "chamber-read",
  { description: "The level of a chamber was read.", example: { chamber: "chest-left", level: 180 } },
  {
    chamber: Chamber,
    level: Level,
    category: Category.optional(),
    confirmed: z
      .boolean()
      .optional()
      .describe("It was looked at again and does hold this, though it held more before."),
  },
);

export const ChamberEmptied = kind(
  "chamber-emptied",
  {
    description: "A chamber was emptied or changed; its level starts at 0 again.",
    example: { chamber: "chest-left", level: 420 },
  },
  {
    chamber: Chamber,
    level: Level.optional().describe("What it held, in mL; absent: nobody looked, and it is unknown."),
    category: Category.optional(),
    leaveUncaptured: ClearedTotals,
  },
);
