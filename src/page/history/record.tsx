/** What was recorded of a shift, in the order in which it happened: both times, who, and what became of it. */

import { useQuery } from "@tanstack/react-query";
import type { Entry } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { entrySentence } from "../picture/sentences.js";
import { go } from "../ui/going.js";
import { Empty, Failed, Loading } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { clockAmong } from "../words/wall.js";
import { aboutEntries } from "./asking.js";
import { correctedBy, isCorrection } from "./versions.js";

interface RecordProps {
  readonly encounter: string;
  readonly sheet: ShiftSheet;
  readonly asOf: string | null;
}

export function RecordView({ encounter, sheet: { shift }, asOf }: RecordProps) {
  const { words } = useSpeech();
  // Listed up to and without an instant; what happened at the shift's end belongs to it.
  const to = new Date(Date.parse(shift.end) + 1).toISOString();
  const entries = useQuery(aboutEntries(encounter, shift.start, to, asOf));
  // Corrections have no time of their own: they stand in the history of what they correct.
  const happened = entries.data?.filter((entry) => !isCorrection(entry));
  return (
    <section aria-labelledby="record">
      <h2 id="record">{words.history.heading}</h2>
      {entries.error && (
        <Failed failure={entries.error} staleFrom={null} again={() => void entries.refetch()} />
      )}
      {entries.isPending && <Loading />}
      {happened?.length === 0 && <Empty>{words.table.nothing}</Empty>}
      {happened && <EntryTable entries={happened} time={(at) => clockAmong(at, shift.volumes.intervals)} />}
    </section>
  );
}

interface EntryTableProps {
  readonly entries: readonly Entry[];
  /** How the times of what happened are written. */
  readonly time: (instant: string) => string;
}

export function EntryTable({ entries, time }: EntryTableProps) {
  const speech = useSpeech();
  const { words, clockSeenFrom } = speech;
  return (
    <ul className="written-down">
      {entries.map((entry) => {
        const { id, at, recorded, reason } = entry;
        const why = isCorrection(entry) ? `: “${reason}”` : "";
        const what = `${together(entrySentence(entry, speech))}${why}`;
        return (
          <li key={id}>
            <button
              type="button"
              className="plain"
              onClick={() => go({ entry: correctedBy(entry, entries) })}
            >
              <span className="when">{time(at ?? recorded.at)}</span>
              <span className={recorded.state}>
                {recorded.state === "voided" ? <del>{what}</del> : what}
                {recorded.state !== "current" && <strong> {words.history.states[recorded.state]}</strong>}
              </span>
              <span className="soft">
                {words.why.by(recorded.by.name, clockSeenFrom(recorded.at, at ?? recorded.at))}
              </span>
            </button>
          </li>
        );
      })}
    </ul>
  );
}
