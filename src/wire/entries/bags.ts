/**
 * Bags: any container that fluid is delivered from. The label says what it was made with, `remaining`
 * what it holds; `bag-adjusted` changes contents and is no delivery.
 */

import { z } from "zod";
import { faultIssue } from "../fault.js";
import { Amount, LabelVolume, SignedVolume, Volume } from "../quantity.js";
import { Key, text, words } from "../text.js";
import { IntakeCategory } from "./categories.js";
import { DEFAULTS } from "./defaults.js";
import { kind } from "./kind.js";
import { Channel } from "./lines-and-channels.js";

const Bag = Key.describe("The bag, bottle or syringe.");
const Remaining = Volume.describe("What the bag holds, in mL.");
const Method = z
  .enum(["weighed", "scale", "estimate"])
  .describe("How the level was found: by weighing, on the bag's own scale, or by eye.");

/** Which of a channel's two infusions something belongs to. */
export const Role = z.enum(["primary", "secondary"]).optional().meta({
  description: "The maintenance infusion, or the one hung on top of it during which it waits.",
  default: DEFAULTS.role,
});

const Fluid = z
  .strictObject({
    name: words("What is in the bag."),
    category: IntakeCategory,
    code: text(64, "A code of the fluid in the caller's own list, at most 64 characters.").optional(),
  })
  .meta({
    id: "Fluid",
    description: "What a bag is filled with.",
    examples: [{ name: "Sodium chloride 0.9 %", category: "iv-fluid" }],
  });

/** A unit of measure as UCUM or a usual spelling has it. */
export const UnitOfMeasure = text(
  50,
  "A UCUM unit, such as `mg` or `ug/kg/min`; the usual spellings `mcg`, `units` and `mL/hr` are understood. At most 50 characters.",
);

const Additive = z
  .strictObject({
    name: words("The drug or electrolyte."),
    amount: Amount.describe(
      "How much of it the whole bag holds, in `unit`, at most 6 decimals; more are refused.",
    ),
    unit: UnitOfMeasure,
  })
  .meta({
    id: "Additive",
    description: "Something added to a bag; with the bag's volume it gives the concentration.",
    examples: [{ name: "Norepinephrine", amount: 4, unit: "mg" }],
  });

export const BagHung = kind(
  "bag-hung",
  {
    description:
      "A bag is hung on a channel and is that role's bag from then; a running flow goes on. A key hung before is the same bag, with what it still holds.",
    example: {
      channel: "pump-1",
      role: "primary",
      bag: "saline-1",
      volume: 1000,
      fluid: { name: "Sodium chloride 0.9 %", category: "iv-fluid" },
    },
  },
  {
    bag: Bag,
    channel: Channel,
    role: Role,
    fluid: Fluid,
    volume: LabelVolume.describe("The volume on the label in mL, above 0, at most 3 decimals."),
    remaining: Remaining.optional().describe("What it holds when hung, in mL; absent: its label volume."),
    additives: z.array(Additive).max(20).optional().describe("What was added to it, at most 20."),
  },
);

export const BagTakenDown = kind(
  "bag-taken-down",
  {
    description: "A bag is taken down: what it fed ends. What remains in it is a level.",
    example: { bag: "saline-1", remaining: 380, method: "weighed" },
  },
  { bag: Bag, remaining: Remaining.optional(), method: Method.optional() },
);

export const BagLevelRead = kind(
  "bag-level-read",
  {
    description: "What a hanging bag holds was looked at.",
    example: { bag: "saline-1", remaining: 600, method: "scale" },
  },
  { bag: Bag, remaining: Remaining, method: Method },
);

export const BagAdjusted = kind(
  "bag-adjusted",
  {
    description: "The contents of a bag changed by something that is no delivery.",
    example: { bag: "saline-1", volume: -20, reason: "primed" },
  },
  {
    bag: Bag,
    volume: SignedVolume.describe(
      "The change in mL, at most 3 decimals: above 0 for what was added, below 0 for what was primed, withdrawn or spilled.",
    ),
    reason: z.enum(["primed", "withdrawn", "added", "spilled"]).describe("What was done."),
  },
  ({ value, issues }) => {
    const { volume, reason } = value;
    if (volume === 0 || volume > 0 === (reason === "added")) return;
    const sign = reason === "added" ? "above" : "below";
    const detail = `must be ${sign} 0, since the reason is "${reason}".`;
    issues.push(faultIssue(volume, "inconsistent", detail, { path: ["volume"] }));
  },
);
