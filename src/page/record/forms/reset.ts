/** Totals cleared by hand: one of the channel's, or all. */

import type { Field, Form } from "../form.js";
import { type Asking, channelNamed } from "./asking.js";

export function resetForm(asking: Asking, channel: string): Form {
  const { words } = asking.speech;
  const totals = channelNamed(asking, channel)?.totals.map(({ total }) => total) ?? [];
  const choices: Field = {
    is: "choice",
    key: "totals",
    label: words.record.whichTotals,
    options: [
      ...(totals.length > 1 ? [{ value: "all", label: words.record.allTotals }] : []),
      ...totals.map((value) => ({ value, label: words.toWrite.totals[value] })),
    ],
  };
  return {
    title: words.record.titles.reset(channel),
    initial: { totals: totals.length > 1 ? "all" : (totals[0] ?? "") },
    timed: true,
    fields: () => [choices],
    entries: (entered, at) => {
      const chosen = totals.filter((total) => ["all", total].includes(entered.text("totals")));
      return chosen.length === 0 ? null : [{ kind: "totals-reset", at, channel, totals: chosen }];
    },
  };
}
