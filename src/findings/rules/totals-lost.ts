/**
 * A running total was cleared that nobody had written down: its volume rests on the computation alone, and
 * of a counter whose rate nobody knows on nothing.
 */

import type { Settings } from "../../conventions/settings.js";
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

/**
 * Whether a clear lost what a person would be asked about: more than the unit's limit and two minutes of
 * flow, or, of a counter that nobody knows the rate of, any time since it was last read.
 */
export function losesMuch(clear: TotalCleared, { askAbove }: Pick<Settings, "askAbove">): boolean {
  const { over, at, lost } = clear;
  return ofUnknownRate(clear) ? at - over.from > BRIEF : lost > volumeOf(askAbove) && over.flowing > BRIEF;
}

/** Whether what was lost is the least it can have been. */
export function ofUnknownRate({ over }: TotalCleared): boolean {
  return over.atLeast;
}

/** What one clear lost, whether of one total or of both. */
function byClear({ collected, settingsAt }: Evidence): TotalCleared[][] {
  const clears = new Map<string, TotalCleared[]>();
  const captured = new Set(
    collected.readings.flatMap(({ before, total }) => (before === null ? [] : [`${before.entry} ${total}`])),
  );
  for (const clear of collected.clears) {
    if (captured.has(`${clear.entry} ${clear.total}`)) continue;
    const lost = losesMuch(clear, settingsAt(clear.at));
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
  const unknown = cleared.some(ofUnknownRate);
  const charted = reasonGiven ? ", as was charted" : "";
  const several = totals.length > 1;
  const lost = unknown
    ? `unread since ${words.time(since)}${charted}: what ${several ? "they" : "it"} counted is not known.`
    : `with ${words.volume(volume)} not written down since ${words.time(since)}${charted}: that volume is computed only.`;
  return {
    code: "totals-lost",
    severity: reasonGiven ? "note" : "attention",
    subject: entry,
    channel,
    start: since,
    end: at,
    entries: [...new Set([entry, ...cleared.map(({ over }) => over.entry)])],
    volume: unknown ? null : volume,
    sentence:
      `The ${saidTotals(totals)} of ${channel} ${several ? "were" : "was"} cleared at ${words.time(at)} ` +
      lost,
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
