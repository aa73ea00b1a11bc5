/** An entry that fits nothing known: it is kept, changes nothing, and a later entry may give it sense. */

import { beginningIn } from "../../infusion/cuts.js";
import type { Note } from "../../infusion/flow.js";
import { later, MINUTE } from "../../time/instant.js";
import type { Evidence, Rule } from "../finding.js";
import { reportedAs } from "../lookup.js";
import { asSentence } from "../said.js";

export const entryWithoutEffect: Rule = {
  code: "entry-without-effect",
  runs: "recording",
  find: (evidence) =>
    evidence.collected.notes
      .filter((note) => note.code === "entry-without-effect" && !isStarted(note, evidence))
      .map(({ entry, channel, at, why }) => ({
        code: "entry-without-effect",
        severity: "attention",
        subject: entry,
        channel,
        start: at,
        entries: [entry],
        volume: null,
        sentence: asSentence(`it changes nothing: ${why}`),
        settledBy: [
          { text: "The entry before it that is missing, recorded late." },
          {
            text: "A void, if it was charted in error.",
            proposals: [{ do: "void", target: entry, reason: "charted in error" }],
          },
        ],
      })),
};

/** A bag that did not start by being hung, and was started by hand so soon that nothing is amiss. */
const SOON = 15 * MINUTE;

function isStarted({ entry: id, channel, at }: Note, evidence: Evidence): boolean {
  if (reportedAs(evidence, id)?.placed.entry.kind !== "bag-hung") return false;
  const soon = { from: at, to: later(at, SOON + 1) };
  return beginningIn(evidence.entries, soon, ({ placed }) => placed.entry.at).some(
    ({ placed: { entry } }) => entry.kind === "flow-started" && entry.channel === channel,
  );
}
