/** A rate and a dose were told together, and the dose comes to another rate. */

import type { Entry } from "../../infusion/entry.js";
import type { Rate } from "../../infusion/quantity.js";
import { DEFAULT_RATE_STEP } from "../../infusion/rate-step.js";
import type { Evidence, Found, Reported, Rule } from "../finding.js";

type Told = Extract<Entry, { kind: "flow-started" | "rate-changed" | "secondary-started" }>;

export const doseRateDisagrees: Rule = {
  code: "dose-rate-disagrees",
  runs: "recording",
  find: (evidence) => evidence.entries.flatMap((one) => found(one, evidence) ?? []),
};

function found({ placed }: Reported, { state, words }: Evidence): Found | undefined {
  const entry = placed.entry as Told;
  const { rate, doseRate } = entry;
  if (doseRate === undefined || rate === "unknown" || typeof rate !== "number") return undefined;
  const step = state.channels.get(entry.channel)?.rateStep ?? DEFAULT_RATE_STEP;
  if (Math.abs(rate - doseRate) <= step) return undefined;
  return {
    code: "dose-rate-disagrees",
    severity: "attention",
    subject: placed.id,
    channel: entry.channel,
    start: entry.at,
    entries: [placed.id],
    volume: null,
    sentence:
      `${entry.channel} was charted at ${words.rate(rate)} at ${words.time(entry.at)}, ` +
      `and the dose charted with it comes to ${words.rate(doseRate as Rate)}: the rate is what counts.`,
    settledBy: [{ text: "An amendment of the rate or of the dose." }],
  };
}
