/** Where figures stand on the sheet: what is before and after one in its row, and across on the other side. */

import { isUnder, isWithin, type LedgerItem } from "./chart.js";
import { type Figure, isChartedAbove, type Side } from "./figure.js";

export interface Places {
  /** The cells of a figure's row by time, itself among them; a question about a total stands alone. */
  row(figure: Figure): readonly Figure[];
  /**
   * What differs on the other side of the balance, in the same span. A sum may hold what another figure has in part
   * of its span.
   */
  across(figure: Figure): readonly Figure[];
  /** What differs in other rows of the same side, in the same span. */
  beside(figure: Figure): readonly Figure[];
  /** What the ledger has under the row in the intervals just before and after it, where no cell is charted. */
  outside(figure: Figure): readonly LedgerItem[];
}

/** What a channel gave as secondary, and otherwise. */
export interface ChannelItems {
  readonly channel: string;
  readonly secondary: readonly LedgerItem[];
  readonly primary: readonly LedgerItem[];
}

const OTHER: Readonly<Record<Side, Side | null>> = { intake: "output", output: "intake", net: null };

/** `asked` is what differs: where a figure matches, nothing came from it or went there. */
export function placesOf(
  cells: readonly Figure[],
  asked: readonly Figure[],
  items: readonly LedgerItem[],
): Places {
  const rows = new Map<string, Figure[]>();
  for (const cell of [...cells].sort((a, b) => a.start - b.start)) {
    const row = rows.get(cell.key);
    if (row === undefined) rows.set(cell.key, [cell]);
    else row.push(cell);
  }
  const row = (figure: Figure) => {
    const all = rows.get(figure.key) ?? [];
    return all.includes(figure) ? all : [figure];
  };
  return {
    row,
    across: (figure) =>
      asked.filter((other) => other.side === OTHER[figure.side] && areOfOneSpan(figure, other)),
    beside: (figure) =>
      "sum" in figure.row
        ? []
        : asked.filter(
            (other) =>
              !("sum" in other.row) &&
              other.key !== figure.key &&
              other.side === figure.side &&
              other.start === figure.start &&
              other.end === figure.end,
          ),
    outside: (figure) => {
      const charted = row(figure);
      return items.filter(
        (item) =>
          (item.end === figure.start || item.start === figure.end) &&
          isUnder(figure.under, item) &&
          !isChartedAbove(figure, item) &&
          !charted.some((cell) => isWithin(item, cell)),
      );
    },
  };
}

function areOfOneSpan(a: Figure, b: Figure): boolean {
  if (a.start === b.start && a.end === b.end) return true;
  return ("sum" in a.row && isWithin(b, a)) || ("sum" in b.row && isWithin(a, b));
}

/** What ran on channels that gave a secondary. */
export function withSecondary(items: readonly LedgerItem[]): ChannelItems[] {
  const keys = new Set(items.flatMap(({ channel, role }) => (role === "secondary" ? (channel ?? []) : [])));
  return [...keys].map((channel) => {
    const own = items.filter((item) => item.channel === channel);
    const secondary = own.filter(({ role }) => role === "secondary");
    return { channel, secondary, primary: own.filter(({ role }) => role !== "secondary") };
  });
}
