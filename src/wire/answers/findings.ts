/** Findings as they are answered: what a person should look at, why, and what settles it. */

import { z } from "zod";
import { InstantText } from "../instant.js";
import { Key } from "../text.js";
import { AsOf, Author, LedgerHead, Until } from "./head.js";
import { ReadyEntry } from "./ready.js";

export const FINDING_CODES = [
  "totals-at-risk",
  "totals-lost",
  "unrecorded-clear",
  "reading-disagrees",
  "no-reading-at-shift-end",
  "bag-ran-dry",
  "bag-overdrawn",
  "bag-unaccounted",
  "flow-without-bag",
  "end-unconfirmed",
  "pause-not-ended",
  "flow-unattended",
  "keep-open-running",
  "secondary-not-ended",
  "primary-not-clamped",
  "line-removed-running",
  "rate-implausible",
  "dose-rate-disagrees",
  "time-implausible",
  "late-entry",
  "possible-duplicate",
  "output-gap",
  "weight-missing",
  "weight-implausible",
  "entry-without-effect",
  "irrigant-exceeds-output",
  "shift-unsigned",
  "signed-shift-changed",
  "chart-differs",
] as const;

const Concerns = z
  .strictObject({
    shift: z.string().optional().describe("The shift, such as `2026-03-04/day`."),
    start: InstantText.optional().describe("From when."),
    end: InstantText.optional().describe("Until when."),
    channel: Key.nullable().optional().describe("The channel; null where it is about none."),
    entries: z.array(Key).describe("The ids of the entries it hangs on."),
  })
  .meta({ id: "Concerns", description: "What a finding is about." });

const Acknowledged = z
  .strictObject({
    entry: Key.describe("The id of the entry that says so; a void of it undoes it."),
    at: InstantText.describe("When."),
    by: Author,
    reason: z.string().describe("Why it may stand."),
    sentence: z.string().describe("The sentence that was acknowledged, with its numbers."),
  })
  .meta({ id: "Acknowledged", description: "Who acknowledged a finding, and what they saw." });

export const Finding = z
  .strictObject({
    id: z.string().describe("The same however often everything is computed again."),
    code: z
      .enum(FINDING_CODES)
      .describe("What was found, for programs to switch on; the sentence says it to people."),
    severity: z
      .enum(["question", "attention", "note"])
      .describe("A question waits for an answer, attention for a look, a note for nothing."),
    state: z
      .enum(["open", "acknowledged", "settled"])
      .describe(
        "Nobody dealt with it yet; somebody said why it may stand; or entries recorded since have answered it.",
      ),
    concerns: Concerns,
    sentence: z.string().describe("What was found, in plain words and with its numbers."),
    settledBy: z
      .array(
        z.strictObject({
          text: z.string().describe("What would settle it."),
          entry: ReadyEntry.optional().describe("The entry that would, where it is one, ready to post."),
          entries: z
            .array(ReadyEntry)
            .optional()
            .describe("The entries that would, where there are several, to be posted together."),
          fill: z
            .array(z.string())
            .optional()
            .describe(
              "JSON Pointers into `entry` or `entries` of what a person still has to fill in: a number read off, or a reason.",
            ),
        }),
      )
      .describe("What would settle it, the likeliest first."),
    acknowledged: Acknowledged.optional(),
  })
  .meta({ id: "Finding", description: "Something a person should look at." });

export const FindingAcknowledged = Finding.extend({ ledger: LedgerHead }).meta({
  id: "FindingAcknowledged",
  description: "The finding is acknowledged.",
});

export const FindingList = z
  .strictObject({
    asOf: AsOf,
    until: Until,
    findings: z.array(Finding).describe("The findings that were asked for; empty where nothing is found."),
  })
  .meta({ id: "FindingList", description: "The findings of an encounter." });
