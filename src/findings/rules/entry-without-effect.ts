/** An entry that fits nothing known: it is kept, changes nothing, and a later entry may give it sense. */

import { beginningIn } from "../../infusion/cuts.js";
import type { Note } from "../../infusion/flow.js";
import { type Instant, later, MINUTE } from "../../time/instant.js";
import type { Evidence, Found, Proposal, Reported, Rule } from "../finding.js";
import { reportedAs } from "../lookup.js";
import { asSentence } from "../said.js";

export const entryWithoutEffect: Rule = {
  code: "entry-without-effect",
  runs: "recording",
  find: (evidence) =>
    evidence.collected.notes
      .filter((note) => note.code === "entry-without-effect" && !isStarted(note, evidence))
      .map((note) => found(note, evidence)),
};

function found(note: Note, evidence: Evidence): Found {
  const { entry, channel, at, why } = note;
  const early = readBeforeConnecting(note, evidence);
  const because =
    early === undefined
      ? why
      : `at ${evidence.words.time(at)} it counts before the channel is connected, unless it says that it was read after`;
  return {
    code: "entry-without-effect",
    severity: "attention",
    subject: entry,
    channel,
    start: at,
    entries: [entry],
    volume: null,
    sentence: asSentence(`it changes nothing: ${because}`),
    settledBy: [
      early === undefined
        ? { text: "The entry before it that is missing, recorded late." }
        : { text: "An amendment, if it was read after the channel was connected.", proposals: [early] },
      {
        text: "A void, if it was charted in error.",
        proposals: [{ do: "void", target: entry, reason: "charted in error" }],
      },
    ],
  };
}

/** Of a total read at the instant at which its channel is connected, what lets it count. */
function readBeforeConnecting({ entry: id, at }: Note, evidence: Evidence): Proposal | undefined {
  const reading = reportedAs(evidence, id)?.placed.entry;
  if (reading?.kind !== "total-read" || reading.position === "after") return undefined;
  const connected = beginningIn(evidence.entries, { from: at, to: later(at, 1) }, timeOf).some(
    ({ placed: { entry } }) => entry.kind === "channel-connected" && entry.channel === reading.channel,
  );
  if (!connected) return undefined;
  const replacement = { ...reading, position: "after" as const };
  return { do: "amend", target: id, replacement, reason: "read after the channel was connected" };
}

const timeOf = ({ placed }: Reported): Instant => placed.entry.at;

/** A bag that did not start by being hung, and was started by hand so soon that nothing is amiss. */
const SOON = 15 * MINUTE;

function isStarted({ entry: id, channel, at }: Note, evidence: Evidence): boolean {
  if (reportedAs(evidence, id)?.placed.entry.kind !== "bag-hung") return false;
  const soon = { from: at, to: later(at, SOON + 1) };
  return beginningIn(evidence.entries, soon, timeOf).some(
    ({ placed: { entry } }) => entry.kind === "flow-started" && entry.channel === channel,
  );
}
