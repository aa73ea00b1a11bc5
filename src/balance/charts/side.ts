/** Which side of the balance a row is on. */

import type { IntakeCategory, OutputCategory } from "../../infusion/entry.js";
import { isUnder, type LedgerItem, type RowName } from "./chart.js";
import type { Side } from "./figure.js";

const SIDES: Readonly<Record<IntakeCategory | OutputCategory, "intake" | "output">> = {
  "iv-fluid": "intake",
  "iv-medication": "intake",
  "iv-push": "intake",
  "iv-flush": "intake",
  "blood-product": "intake",
  "parenteral-nutrition": "intake",
  oral: "intake",
  "enteral-feed": "intake",
  "enteral-water": "intake",
  "other-intake": "intake",
  urine: "output",
  gastric: "output",
  emesis: "output",
  stool: "output",
  drain: "output",
  "chest-drain": "output",
  "blood-loss": "output",
  "fluid-removal": "output",
  "other-output": "output",
};

/** By the category or by what the ledger has under the row; an item the ledger does not know counts as intake. */
export function sideOf(row: RowName, items: readonly LedgerItem[]): Side {
  if ("sum" in row) return row.sum;
  if ("line" in row) return "intake";
  if ("category" in row && row.category !== null && Object.hasOwn(SIDES, row.category))
    return SIDES[row.category as IntakeCategory];
  return items.find((item) => isUnder(row, item))?.direction ?? "intake";
}
