/** What a chart's row is about, by its name: a sum, a category in any language of the page, a line, else an item. */

import type { ChartRow, ShiftFigures } from "../api/shapes.js";
import type { Words } from "../words/en.js";
import { plain } from "./plain.js";

type Sum = "intake" | "output" | "net";

/** How sums are named besides by their own word. */
const SUMS: Readonly<Record<Sum, readonly string[]>> = {
  intake: ["intake", "total intake", "in", "total in", "input", "ingresos", "total ingresos", "entradas"],
  output: ["output", "total output", "out", "total out", "egresos", "total egresos", "salidas"],
  net: ["net", "balance", "net balance", "neto", "balance neto"],
};

export type Lines = Pick<ShiftFigures["volumes"]["rows"][number], "key" | "label">[];

/** A name in any of the languages. Null for one that says only that it is a total: of what is not guessed at. */
export function rowNamed(name: string, lines: Readonly<Lines>, languages: readonly Words[]): ChartRow | null {
  const wanted = plain(name);
  if (["total", "totals", "sum", "suma"].includes(wanted)) return null;
  for (const sum of Object.keys(SUMS) as Sum[]) {
    const own = languages.map((words) => plain(words.balance[sum]));
    if ([...SUMS[sum], ...own].includes(wanted)) return { sum };
  }
  const category = categoryNamed(wanted, languages);
  if (category !== undefined) return { category };
  const line = lines.find(({ key, label }) =>
    [key, label].some((text) => text !== null && plain(text) === wanted),
  );
  if (line !== undefined && line.key !== null) return { line: line.key };
  return { item: name.trim() };
}

type BalanceCategory = Exclude<Extract<ChartRow, { category: unknown }>["category"], null>;

function categoryNamed(wanted: string, languages: readonly Words[]): BalanceCategory | null | undefined {
  for (const { categories } of languages) {
    for (const [key, name] of Object.entries(categories)) {
      if (plain(name) !== wanted && plain(key) !== wanted) continue;
      return key === "unidentified" ? null : (key as BalanceCategory);
    }
  }
  return undefined;
}
