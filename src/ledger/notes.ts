/** What the course noted on entries, as findings: those that a request raised, and those it settled. */

import type { Note, NoteCode } from "../infusion/flow.js";
import type { Instant } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import type { Appended } from "./append.js";
import type { StayFacts } from "./stay.js";

interface Finding {
  readonly id: string;
  readonly code: string;
  readonly severity: "question" | "attention" | "note";
  readonly state: "open" | "settled";
  readonly concerns: {
    readonly start: string;
    readonly channel: string | null;
    readonly entries: readonly string[];
  };
  readonly sentence: string;
  readonly settledBy: readonly { readonly text: string }[];
}

const KINDS: Readonly<
  Record<Exclude<NoteCode, "reported-twice">, { severity: Finding["severity"]; settledBy: string }>
> = {
  "entry-without-effect": {
    severity: "attention",
    settledBy: "The entry that gives it sense, or its amendment or void.",
  },
  "bag-overdrawn": {
    severity: "note",
    settledBy: "The next bag, or what this one held when it was hung or taken down.",
  },
  "line-removed-running": {
    severity: "attention",
    settledBy: "When the flow was stopped, charted at its own time.",
  },
};

/** Findings in the order in which they were noted; what was noted before and is noted still is no news. */
export function findingsOf({ before, after }: Appended["notes"], facts: StayFacts, now: Instant): Finding[] {
  // What a device set down for later is not judged before its time.
  const until = (notes: readonly Note[]) => byIdentity(notes.filter(({ at }) => at <= now));
  const [was, is] = [until(before), until(after)];
  const raised = [...is].filter(([id]) => !was.has(id)).map(([id, note]) => finding(id, note, "open", facts));
  const gone = [...was]
    .filter(([id]) => !is.has(id))
    .map(([id, note]) => finding(id, note, "settled", facts));
  return [...raised, ...gone].filter((one) => one !== undefined);
}

/** A finding hangs on its code and its entry, never on times or numbers. */
function byIdentity(notes: readonly Note[]): Map<string, Note> {
  return new Map(notes.map((note) => [`${note.code}.${note.entry}`, note]));
}

function finding(id: string, note: Note, state: Finding["state"], facts: StayFacts): Finding | undefined {
  // Two reports of one event are linked and counted once: nothing is left for a person to do.
  if (note.code === "reported-twice") return undefined;
  const { severity, settledBy } = KINDS[note.code];
  const { zone } = facts.conventions.stretchAt(note.at);
  return {
    id,
    code: note.code,
    severity,
    state,
    concerns: { start: formatInstant(note.at, zone), channel: note.channel, entries: [note.entry] },
    sentence: `${note.why[0]!.toUpperCase()}${note.why.slice(1)}.`,
    settledBy: [{ text: settledBy }],
  };
}
