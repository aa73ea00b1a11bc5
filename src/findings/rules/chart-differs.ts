/** A chart that somebody kept holds other figures than the ledger: one of the two is to be put right. */

import { saidFigure } from "../../balance/charts/said.js";
import { volumeOf } from "../../infusion/quantity.js";
import type { ChartCompared, Evidence, Found, Rule } from "../finding.js";

export const chartDiffers: Rule = {
  code: "chart-differs",
  runs: "recording",
  find: ({ charts, settingsAt, words }: Evidence) =>
    charts
      .filter(({ differing }) => differing.length > 0)
      .map((one): Found => {
        const { chart, start, end, shift, differing, finest } = one;
        const { attention } = settingsAt(start).chartTolerance;
        const needsAttention = differing.some(({ difference }) => Math.abs(difference) > attention);
        return {
          code: "chart-differs",
          severity: needsAttention ? "attention" : "note",
          subject: chart,
          channel: null,
          ...(shift !== null && { shift }),
          start,
          end,
          entries: [chart],
          volume: volumeOf(finest.reduce((sum, { difference }) => sum + Math.abs(difference), 0)),
          sentence: sentenceOf(one, words),
          settledBy: [
            { text: `What would explain each difference: reconcile the chart ${chart} with the ledger.` },
            { text: "The chart put right, and kept again for the same span." },
            { text: "A late entry, an amendment or a void, where it is the ledger that is wrong." },
          ],
        };
      }),
};

function sentenceOf(
  { source, start, end, count, differing, finest }: ChartCompared,
  words: Evidence["words"],
) {
  const said = (volume: number) => words.volume(volumeOf(volume));
  const { time } = words.on(start);
  const most = finest[0]!;
  const { volume, difference } = most;
  const figure = saidFigure(most, { time, volume: said });
  const by = `${said(Math.abs(difference))} ${difference > 0 ? "more" : "less"}`;
  const totals = differing.length - finest.length;
  return (
    `The chart${source === null ? "" : ` "${source}"`} of ${words.time(start)} to ${time(end)} differs from the ` +
    `ledger in ${finest.length} of ${count} figures${totals === 0 ? "" : `, and so in ${saidTotals(totals)} of them`}, ` +
    `most in ${figure}: ${by} is charted (${said(volume)}) than the ledger has (${said(volume - difference)}).`
  );
}

function saidTotals(count: number): string {
  return count === 1 ? "one total" : `${count} totals`;
}
