/** Proposals as entries ready to be posted: what settles a finding, answers a question, or explains a reading. */

import type { Proposal } from "../findings/finding.js";
import type { Entry } from "../infusion/entry.js";
import { formatInstant } from "../time/zone.js";
import { encodeEntry } from "../wire/encode.js";
import type { PostedFact } from "../wire/entries/facts.js";
import type { PostedEntry } from "../wire/entry.js";
import { millilitres } from "../wire/quantity.js";
import type { StoredBody } from "../wire/stored.js";
import { isByTheLedger } from "../wire/stored.js";

/** One way to answer: its entries, and what of them only the device can tell. */
export interface ReadyText {
  readonly text: string;
  readonly entries: readonly object[];
  readonly fill: readonly string[];
  /** JSON Pointers into the request of what they stand instead of. */
  readonly instead: readonly string[];
}

/** What is known of an entry that a proposal amends: as it was sent, and where, if it is not recorded yet. */
export type Amending =
  | {
      readonly recorded: true;
      readonly body: StoredBody | undefined;
      /** What it came to when it was recorded: the rate of a dose among others. Absent where nobody looked. */
      readonly counts?: Entry | undefined;
    }
  | {
      readonly recorded: false;
      readonly body: StoredBody;
      readonly index: number;
      readonly saying: (more: object) => object;
    };

export function readyText(
  text: string,
  proposals: readonly Proposal[],
  zone: string,
  find: (id: string) => Amending | undefined,
): ReadyText {
  const entries: object[] = [];
  const fill: string[] = [];
  const instead: string[] = [];
  for (const proposal of proposals) {
    const target = "target" in proposal ? find(proposal.target) : undefined;
    if (target?.recorded === false) instead.push(`#/entries/${target.index}`);
    // What is not recorded yet is left out, not voided.
    if (proposal.do === "void" && target?.recorded === false) continue;
    const entry = entryOf(proposal, zone, find);
    if (entry === undefined) continue;
    if (proposal.do === "read") fill.push(`/${entries.length}/volume`);
    if (isDecision(proposal)) fill.push(`/${entries.length}/reason`);
    entries.push(entry);
  }
  return { text, entries, fill, instead };
}

/** A decision lacks its reason, which is for whoever takes it to say. */
function isDecision(proposal: Proposal): boolean {
  return proposal.do === "record" && proposal.entry.kind === "variance-settled";
}

function entryOf(
  proposal: Proposal,
  zone: string,
  find: (id: string) => Amending | undefined,
): object | undefined {
  switch (proposal.do) {
    case "record":
      return encodeEntry(proposal.entry, zone);
    case "read": {
      const { kind, at, channel, total, position } = proposal.entry;
      return { kind, at: formatInstant(at, zone), channel, total, ...(position && { position }) };
    }
    case "void":
      return { kind: "entry-voided", entry: proposal.target, reason: proposal.reason };
    case "amend": {
      const target = find(proposal.target);
      const replacement = replaced(proposal, zone, target);
      if (replacement === undefined) return undefined;
      // What is not recorded yet is sent as it should be, in place of what was sent.
      if (target?.recorded === false) return target.saying(replacement);
      return { kind: "entry-amended", entry: proposal.target, reason: proposal.reason, replacement };
    }
    default:
      return proposal satisfies never;
  }
}

/** How a flow's rate may have been told other than in mL/h. */
interface Speeds {
  readonly dose?: unknown;
  readonly over?: unknown;
  readonly dripRate?: unknown;
}

/** The entry as it was sent, with what the proposal says otherwise: a dose stays a dose unless its rate was another. */
function replaced(
  { replacement }: Extract<Proposal, { do: "amend" }>,
  zone: string,
  target: Amending | undefined,
): PostedFact | undefined {
  const body = target?.body;
  if (body === undefined || isByTheLedger(body)) return encodeEntry(replacement, zone);
  const at = formatInstant(replacement.at, zone);
  const { id: _, ...sent } = body as PostedEntry & { id?: string };
  const { confirmed: __, ...unjudged } = sent as PostedFact & { confirmed?: boolean };
  const { order } = replacement;
  const fact = { ...unjudged, at, ...(order !== undefined && { order }) } as PostedFact;
  switch (replacement.kind) {
    case "total-read": {
      const { channel, total, volume, position } = replacement;
      const read = { channel, total, volume: millilitres(volume), ...(position && { position }) };
      return { ...fact, ...read } as PostedFact;
    }
    case "rate-changed":
    case "flow-started":
    case "secondary-started": {
      const { rate } = replacement;
      const clamped = "primaryClamped" in replacement && replacement.primaryClamped;
      const told = clamped ? ({ ...fact, primaryClamped: true } as PostedFact) : fact;
      if (rate === "unknown") return told;
      const counts = target?.recorded === true ? target.counts : undefined;
      const was = counts !== undefined && "rate" in counts ? counts.rate : undefined;
      if (was === rate) return told;
      if (!("rate" in told) && was === undefined) return told;
      const { dose: _dose, over: _over, dripRate: _drops, ...rest } = told as PostedFact & Speeds;
      return { ...rest, rate: millilitres(rate) } as PostedFact;
    }
    case "output-measured":
      return { ...fact, ...(replacement.site !== undefined && { site: replacement.site }) } as PostedFact;
    default:
      return fact;
  }
}
