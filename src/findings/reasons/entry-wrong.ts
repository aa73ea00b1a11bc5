/**
 * Something was recorded after the reading and contradicts it: by what was known before, the reading agreed.
 * Two that agree are rarely both wrong, so it is mostly what came last that is, or its time.
 */

import type { Reported } from "../finding.js";
import { entrySaid } from "./entry-said.js";
import type { Disagreeing, Reason } from "./reason.js";
import { retold } from "./retelling.js";
import { saidSince } from "./span.js";
import { likeliest, type Supposed } from "./supposed.js";

export function entryWrong(d: Disagreeing): Reason[] {
  return likeliest("entry-wrong", d, without(d));
}

/** Each of them left out, and all of them together. */
function* without(d: Disagreeing): Iterable<Supposed> {
  const since = saidSince(d);
  const choices = since.length > 1 ? [...since.map((one) => [one]), since] : since.map((one) => [one]);
  for (const choice of choices) {
    const proposals = choice.map(({ placed }) => ({
      do: "void" as const,
      target: placed.id,
      reason: "A reading that was there before contradicts it.",
    }));
    const { judged } = retold(d.reading, d.retelling, proposals);
    if (judged === undefined) continue;
    const { increment, computed } = judged.comparison;
    const tell = () => ({ sentence: sentence(d, choice), proposals });
    yield { increment, would: computed, share: 1 / choices.length, tell };
  }
}

function sentence({ words }: Disagreeing, entries: readonly Reported[]): string {
  const [first] = entries;
  const { kind, at } = first!.placed.entry;
  const what =
    entries.length === 1
      ? `The ${entrySaid(kind)} charted at ${words.time(at)} was`
      : `${entries.length} entries from ${words.time(at)} on were`;
  return (
    `${what} recorded after the reading, which agreed before: ` +
    `${entries.length === 1 ? "it, or its time, may be wrong." : "they, or their times, may be wrong."}`
  );
}
