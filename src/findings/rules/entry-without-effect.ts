/** An entry that fits nothing known: it is kept, changes nothing, and a later entry may give it sense. */

import { beginningIn } from "../../infusion/cuts.js";
import type { Entry, EntryKind } from "../../infusion/entry.js";
import type { Note } from "../../infusion/flow.js";
import { type Instant, later, MINUTE } from "../../time/instant.js";
import type { Evidence, Found, Reported, Rule, Settlement } from "../finding.js";
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
  const { entry, channel, at } = note;
  const { because, remedy } = readBeforeConnecting(note, evidence) ??
    endedBeforeItBegan(note, evidence) ?? {
      because: note.why,
      remedy: { text: "The entry before it that is missing, recorded late." },
    };
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
      remedy,
      {
        text: "A void, if it was charted in error.",
        proposals: [{ do: "void", target: entry, reason: "charted in error" }],
      },
    ],
  };
}

/** Why an entry changes nothing where another of its instant counts after it, and the amendment that turns the two about. */
interface OutOfTurn {
  readonly because: string;
  readonly remedy: Settlement;
}

/** Of a total read at the instant at which its channel is connected, what lets it count. */
function readBeforeConnecting({ entry: id, at }: Note, evidence: Evidence): OutOfTurn | undefined {
  const reading = reportedAs(evidence, id)?.placed.entry;
  if (reading?.kind !== "total-read" || reading.position === "after") return undefined;
  const connected = atTheInstant(at, evidence).some(
    (entry) => entry.kind === "channel-connected" && entry.channel === reading.channel,
  );
  if (!connected) return undefined;
  const replacement = { ...reading, position: "after" as const };
  const reason = "read after the channel was connected";
  return {
    because: `at ${evidence.words.time(at)} it counts before the channel is connected, unless it says that it was read after`,
    remedy: {
      text: "An amendment, if it was read after the channel was connected.",
      proposals: [{ do: "amend", target: id, replacement, reason }],
    },
  };
}

/** What an end or a pause is an end of, where both happened in the same minute. */
const BEGUN_BY: Readonly<Partial<Record<EntryKind, EntryKind>>> = {
  "flow-stopped": "flow-started",
  "flow-paused": "flow-started",
  "secondary-ended": "secondary-started",
  "bolus-stopped": "bolus-started",
};

/** Of an end charted in the minute of its beginning, before which it counts, what lets it count after it. */
function endedBeforeItBegan({ entry: id, channel, at }: Note, evidence: Evidence): OutOfTurn | undefined {
  const end = reportedAs(evidence, id)?.placed.entry;
  const begunBy = end === undefined ? undefined : BEGUN_BY[end.kind];
  const begin = atTheInstant(at, evidence).find(
    (entry) => entry.kind === begunBy && "channel" in entry && entry.channel === channel,
  );
  if (end === undefined || begin === undefined) return undefined;
  const replacement = { ...end, order: (begin.order ?? 0) + 1 };
  const reason = "ended in the minute in which it began";
  return {
    because: `at ${evidence.words.time(at)} it counts before what was started in the same minute, which goes on`,
    remedy: {
      text: "An amendment, if it ended what was started in the same minute.",
      proposals: [{ do: "amend", target: id, replacement, reason }],
    },
  };
}

function atTheInstant(at: Instant, evidence: Evidence): readonly Entry[] {
  return beginningIn(evidence.entries, { from: at, to: later(at, 1) }, timeOf).map(
    ({ placed }) => placed.entry,
  );
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
