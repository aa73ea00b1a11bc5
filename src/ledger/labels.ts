/** What people call the rows of an answer: labels of lines, names of fluids, words for categories. */

import type { Category, Part } from "../balance/posting.js";
import type { LinePlaced } from "../infusion/entry.js";
import type { Grouping } from "../infusion/headings.js";
import type { VolumeRow } from "../infusion/volumes.js";
import { ask, type Inquiry } from "../store/store.js";
import { countingOf, merged, placedOf } from "./families.js";
import type { Known } from "./replay.js";

const CATEGORIES: Readonly<Record<Category, string>> = {
  "iv-fluid": "Intravenous fluid",
  "iv-medication": "Intravenous medication",
  "iv-push": "Intravenous push",
  "iv-flush": "Intravenous flush",
  "blood-product": "Blood product",
  "parenteral-nutrition": "Parenteral nutrition",
  oral: "Oral",
  "enteral-feed": "Enteral feed",
  "enteral-water": "Enteral water",
  "other-intake": "Other intake",
  urine: "Urine",
  gastric: "Gastric",
  emesis: "Emesis",
  stool: "Stool",
  drain: "Drain",
  "chest-drain": "Chest drain",
  "blood-loss": "Blood loss",
  "fluid-removal": "Fluid removal",
  "other-output": "Other output",
};

/** A label for each row, in the order of the rows. */
export function* labelsOf(known: Known, per: Grouping, rows: readonly VolumeRow[]): Inquiry<string[]> {
  const keys = per === "line" ? rows.flatMap(({ key }) => (key === null ? [] : [key])) : [];
  const lines = yield* lineLabels(known, keys);
  return rows.map((row) => labelOf(row, per, lines));
}

function labelOf(row: VolumeRow, per: Grouping, lines: ReadonlyMap<string, string>): string {
  const { key, channel, fluid } = row;
  if (key === null) {
    switch (row.without) {
      case "bag":
        return `${channel}: unidentified fluid`;
      case "fluid":
        return "Unidentified fluid";
      case "origin":
        return `${channel}: read beyond what was charted`;
      case "line":
        return "No line named";
      default:
        return "Measured amounts";
    }
  }
  switch (per) {
    case "line":
      return lines.get(key) ?? key;
    case "channel":
      return key;
    case "bag":
      return fluid === null ? key : `${fluid.name} (${key})`;
    case "category":
      return CATEGORIES[key as Category];
    default:
      return per satisfies never;
  }
}

/** What lines are labelled, as far as it is known. */
export function* lineLabels(known: Known, lines: readonly string[]): Inquiry<Map<string, string>> {
  const labels = new Map<string, string>();
  if (lines.length === 0) return labels;
  const keys = lines.map((line) => `line:${line}`);
  const stored = yield* ask({ ask: "declares", chain: known.chain, keys });
  const rows = merged(
    stored.filter(({ sequence }) => sequence <= known.upTo),
    known.staged,
  );
  for (const counting of countingOf(rows)) {
    const entry = placedOf(counting)?.entry;
    if (entry?.kind === "line-placed") labels.set(entry.line, labelOfLine(entry));
  }
  return labels;
}

function labelOfLine({ line, label }: LinePlaced): string {
  return label ?? line;
}

export function categoryLabel(category: Category | null): string {
  return category === null ? "Unidentified fluid" : CATEGORIES[category];
}

/** What people call a part of a category: where, what and how, as far as it is told. */
export function partLabel(
  { line, role, item, site, channel, share }: Part,
  lines: ReadonlyMap<string, string>,
): string {
  const where = line === null ? site : (lines.get(line) ?? line);
  // What a channel gave under no role is what its reading shows and no flow accounts for.
  const beyond = channel !== null && role === null ? `${channel}: read beyond what was charted` : channel;
  const counts = share === 1_000 ? null : `${share / 10} % of it counts`;
  const said = [where, item, beyond, role, counts].filter((word) => word !== null);
  return said.length === 0 ? "Measured amounts" : said.join(", ");
}
