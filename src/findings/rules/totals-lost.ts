/** A running total was cleared that nobody had written down: its volume rests on the computation alone. */

import type { TotalCleared } from "../../infusion/evidence.js";
import { NOTHING, plus, volumeOf } from "../../infusion/quantity.js";
import { earliest } from "../../time/instant.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { saidTotals } from "../said.js";
import { BRIEF } from "./totals-at-risk.js";

export const totalsLost: Rule = {
  code: "totals-lost",
  runs: "recording",
  find: (evidence) => byClear(evidence).map((cleared) => found(cleared, evidence)),
};

/** What one clear lost, whether of one total or of both. */
function byClear({ collected, settingsAt }: Evidence): TotalCleared[][] {
  const clears = new Map<string, TotalCleared[]>();
  for (const clear of collected.clears) {
    const lost = clear.lost > volumeOf(settingsAt(clear.at).askAbove) && clear.over.flowing > BRIEF;
    if (lost) clears.set(clear.entry, [...(clears.get(clear.entry) ?? []), clear]);
  }
  return [...clears.values()];
}

function found(cleared: readonly TotalCleared[], { words }: Evidence): Found {
  const { entry, channel, at } = cleared[0]!;
  const reasonGiven = cleared.every(({ leftUncaptured }) => leftUncaptured);
  const volume = cleared.reduce((sum, { lost }) => plus(sum, lost), NOTHING);
  const since = earliest(...cleared.map(({ over }) => over.from));
  const totals = cleared.map(({ total }) => total);
  return {
    code: "totals-lost",
    severity: reasonGiven ? "note" : "attention",
    subject: entry,
    channel,
    start: since,
    end: at,
    entries: [...new Set([entry, ...cleared.map(({ over }) => over.entry)])],
    volume,
    sentence:
      `The ${saidTotals(totals)} of ${channel} ${totals.length > 1 ? "were" : "was"} cleared at ` +
      `${words.time(at)} with ${words.volume(volume)} not written down since ${words.time(since)}` +
      `${reasonGiven ? ", as was charted" : ""}: that volume is computed only.`,
    settledBy: [
      {
        text: `A late reading of the ${saidTotals(totals)} from before the clear.`,
        proposals: totals.map((total) => ({
          do: "read",
          entry: { kind: "total-read", at, channel, total, position: "before" },
        })),
      },
    ],
  };
}
