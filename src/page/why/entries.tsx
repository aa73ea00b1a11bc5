/** The entries a figure is made of: what each says, when it happened, and who recorded it when. */

import { useQueries } from "@tanstack/react-query";
import { client } from "../api/client.js";
import { answerOf } from "../api/problems.js";
import type { Entry } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { entrySentence } from "../picture/sentences.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";

interface EntriesBehindProps {
  readonly encounter: string;
  readonly ids: readonly string[];
  readonly sheet: ShiftSheet;
}

/** Entries by their ids: those of the shift are there, older ones are asked for. */
export function EntriesBehind({ encounter, ids, sheet }: EntriesBehindProps) {
  const known = [...sheet.entries, ...sheet.hangings];
  const missing = ids.filter((id) => !known.some((entry) => entry.id === id));
  const asked = useQueries({
    queries: missing.map((entry) => ({
      queryKey: ["entry", encounter, entry],
      queryFn: ({ signal }: { signal: AbortSignal }) =>
        answerOf(
          client.GET("/v1/encounters/{encounter}/entries/{entry}", {
            params: { path: { encounter, entry } },
            signal,
          }),
        ),
    })),
  });
  const found = [...known, ...asked.flatMap(({ data }) => data ?? [])];
  return (
    <EntryList
      entries={ids.flatMap((id) => found.find((entry) => entry.id === id) ?? [])}
      to={sheet.shift.until}
    />
  );
}

interface EntryListProps {
  readonly entries: readonly Entry[];
  /** Times of another day than this instant's carry their day. */
  readonly to: string;
}

export function EntryList({ entries, to }: EntryListProps) {
  const speech = useSpeech();
  const { words, clockSeenFrom } = speech;
  if (entries.length === 0) return null;
  return (
    <>
      <h3>{words.why.entries}</h3>
      <ul className="sentences">
        {entries.map((entry) => (
          <li key={entry.id}>
            {together(`${clockSeenFrom(entry.at ?? entry.recorded.at, to)}: ${entrySentence(entry, speech)}`)}{" "}
            <span className="soft">
              {words.why.by(entry.recorded.by.name, clockSeenFrom(entry.recorded.at, to))}
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}
