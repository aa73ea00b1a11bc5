/** Findings as JSON. */

import { type Found, idOfFinding, type Settlement } from "../findings/finding.js";
import { formatInstant } from "../time/zone.js";
import type { AcknowledgedText } from "../wire/stored.js";
import type { Acknowledgement } from "./acknowledgements.js";
import { type Amending, readyText } from "./proposals.js";
import type { StayFacts } from "./stay.js";

export type FindingState = "open" | "acknowledged" | "settled";

export interface FindingText {
  readonly id: string;
  readonly code: string;
  readonly severity: string;
  readonly state: FindingState;
  readonly concerns: AcknowledgedText["concerns"];
  readonly sentence: string;
  readonly settledBy: readonly object[];
  readonly acknowledged?: object;
}

export function findingText(
  found: Found,
  state: FindingState,
  facts: StayFacts,
  find: (id: string) => Amending | undefined,
  acknowledgement?: Acknowledgement,
): FindingText {
  const { zone } = facts.conventions.stretchAt(found.start);
  return {
    id: idOfFinding(found),
    code: found.code,
    severity: found.severity,
    state,
    concerns: {
      ...(found.shift === undefined ? {} : { shift: found.shift }),
      start: formatInstant(found.start, zone),
      ...(found.end === undefined ? {} : { end: formatInstant(found.end, zone) }),
      channel: found.channel,
      entries: [...found.entries],
    },
    sentence: state === "settled" ? saidSettled(found.code, found.sentence) : found.sentence,
    settledBy: found.settledBy.map((settlement) => settlementText(settlement, zone, find)),
    ...(acknowledgement === undefined ? {} : { acknowledged: acknowledgedText(acknowledgement, facts) }),
  };
}

function settlementText(
  { text, proposals = [] }: Settlement,
  zone: string,
  find: (id: string) => Amending | undefined,
): object {
  const { entries, fill } = readyText(text, proposals, zone, find);
  if (entries.length === 0) return { text };
  if (entries.length > 1) return { text, entries, ...(fill.length > 0 && { fill }) };
  return { text, entry: entries[0], ...(fill.length > 0 && { fill: fill.map((path) => path.slice(2)) }) };
}

/** A finding that somebody acknowledged and that is found no more. */
export function settledText(acknowledgement: Acknowledgement, facts: StayFacts): FindingText {
  const { finding, code, severity, concerns, sentence } = acknowledgement.body;
  const acknowledged = acknowledgedText(acknowledgement, facts);
  return {
    id: finding,
    code,
    severity,
    state: "settled",
    concerns,
    sentence: saidSettled(code, sentence),
    settledBy: [],
    acknowledged,
  };
}

/** What is said of a finding that is found no more. A comparison in the present would still call the chart wrong. */
function saidSettled(code: string, sentence: string): string {
  if (code !== "chart-differs") return sentence;
  return `The figures agree now, or the chart was kept again. Before that: ${sentence}`;
}

function acknowledgedText({ id, recordedAt, by, body }: Acknowledgement, { conventions }: StayFacts) {
  const at = formatInstant(recordedAt, conventions.stretchAt(recordedAt).zone);
  return { entry: id, at, by, reason: body.reason, sentence: body.sentence };
}
