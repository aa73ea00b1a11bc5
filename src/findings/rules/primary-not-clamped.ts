/**
 * A fast secondary with the primary not said to be clamped: above some rate fluid may be drawn from both
 * (common practice asks for a clamp above 300 mL/h), and the primary's share is in no figure.
 */

import type { SecondaryStarted } from "../../infusion/entry.js";
import type { Evidence, Found, Reported, Rule } from "../finding.js";
import { flowsOn } from "../lookup.js";
import { startOf } from "../trace.js";

export const primaryNotClamped: Rule = {
  code: "primary-not-clamped",
  runs: "asking",
  find: (evidence) =>
    evidence.entries.flatMap((reported) => {
      const { id, entry } = reported.placed;
      if (entry.kind !== "secondary-started" || entry.primaryClamped === true) return [];
      const above = evidence.settingsAt(entry.at).askClampedAbove;
      const fast = entry.rate !== "unknown" && entry.rate > above;
      return fast && besideAPrimary(id, entry, evidence) ? [found(reported, entry, evidence)] : [];
    }),
};

/** Whether the secondary has a bag of its own, and a primary's bag hangs below it and was to go on. */
function besideAPrimary(id: string, { channel, at }: SecondaryStarted, { collected, state }: Evidence) {
  const flows = flowsOn(collected, channel);
  const own = flows.find((flow) => startOf(flow) === id);
  const primary = flows.find(({ role, end }) => end === at && (role === "primary" || role === "keep-open"));
  const now = state.channels.get(channel);
  if (own === undefined && now?.secondary?.startedBy !== id) return false;
  const programmed = now?.secondary?.startedBy === id && now.primary !== null;
  if (primary === undefined && !programmed) return false;
  const bag = own === undefined ? now!.secondaryBag : own.bag;
  return bag !== null && bag !== (primary === undefined ? now!.primaryBag : primary.bag);
}

function found({ placed: { id } }: Reported, entry: SecondaryStarted, evidence: Evidence): Found {
  const { words, settingsAt } = evidence;
  const rate = entry.rate === "unknown" ? "an unknown rate" : words.rate(entry.rate);
  return {
    code: "primary-not-clamped",
    severity: "attention",
    subject: id,
    channel: entry.channel,
    start: entry.at,
    entries: [id],
    volume: null,
    sentence:
      `The secondary on ${entry.channel} was started at ${rate}, and nobody wrote that the primary was ` +
      `clamped: above ${settingsAt(entry.at).askClampedAbove / 1_000} mL/h both may flow.`,
    settledBy: [
      {
        text: "That the primary was clamped, if it was.",
        proposals: [
          {
            do: "amend",
            target: id,
            replacement: { ...entry, primaryClamped: true },
            reason: "the primary was clamped",
          },
        ],
      },
    ],
  };
}
