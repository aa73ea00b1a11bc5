/** One figure of a table: what it is, how sure it is, what it rests on; a tap asks why. */

import { useSpeech } from "../words/language.js";
import type { Ask } from "./asked.js";
import type { Cell } from "./table-rows.js";

interface FigureButtonProps {
  readonly cell: Cell;
  readonly name: string;
  readonly interval: string;
  readonly ask: Ask;
  /** Whether the Tab key comes to it; all others are reached from there. */
  readonly tabbed: boolean;
}

export function FigureButton({ cell, name, interval, ask, tabbed }: FigureButtonProps) {
  const { words, figure, volume } = useSpeech();
  const { value, certainty, basis } = cell;
  const sure = words.certainty[certainty];
  const spoken = [`${sure} ${volume(value)}`.trim(), basis === null ? "" : words.bases[basis]];
  return (
    <button
      type="button"
      className={`figure ${basis ?? ""}`}
      tabIndex={tabbed ? 0 : -1}
      aria-label={words.table.why(name, interval, spoken.filter(Boolean).join(", "))}
      onClick={() => ask(cell.asked)}
    >
      {sure !== "" && <small>{sure}</small>}
      <span>{figure(value)}</span>
    </button>
  );
}
