/**
 * An entry's history in one column: both times and who, then each correction with its reason and the old values
 * beside the new ones. What was known then is one tap away.
 */

import { useQuery } from "@tanstack/react-query";
import type { Entry } from "../api/shapes.js";
import { entrySentence } from "../picture/sentences.js";
import { go } from "../ui/going.js";
import { Sheet } from "../ui/sheet.js";
import { Failed, Loading } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { clock } from "../words/wall.js";
import { aboutEntry } from "./asking.js";
import { fieldName, fieldValue } from "./fields.js";
import { changed, type FieldChange, type Step, stepsOf } from "./versions.js";

interface EntrySheetProps {
  readonly encounter: string;
  readonly entry: string;
  readonly asOf: string | null;
}

export function EntrySheet({ encounter, entry, asOf }: EntrySheetProps) {
  const { words } = useSpeech();
  const asked = useQuery(aboutEntry(encounter, entry, asOf));
  const { data } = asked;
  const title = data === undefined ? words.history.entry : words.kinds[data.kind];
  return (
    <Sheet title={title} close={() => go({ entry: null })}>
      {asked.error && <Failed failure={asked.error} staleFrom={null} again={() => void asked.refetch()} />}
      {asked.isPending && <Loading />}
      {data && (
        <ol className="steps">
          {stepsOf(data).map((step, index) => (
            <StepItem key={step.entry.id} step={step} first={index === 0} />
          ))}
        </ol>
      )}
    </Sheet>
  );
}

interface StepItemProps {
  readonly step: Step;
  readonly first: boolean;
}

function StepItem({ step: { entry, changes, voids, stands }, first }: StepItemProps) {
  const speech = useSpeech();
  const { words } = speech;
  const { reason } = entry;
  return (
    <li>
      <h3>{first ? words.history.first : headingOf(voids, words.history)}</h3>
      {first && <p className="sentence">{together(entrySentence(entry, speech))}</p>}
      {typeof reason === "string" && !first && (
        <p>
          <span className="soft">{words.history.reason}: </span>
          {reason}
        </p>
      )}
      <Times entry={entry} />
      {first ? (
        <Values changes={changed({}, entry)} />
      ) : (
        changes.length > 0 && <OldAndNew changes={changes} />
      )}
      {!first && voids !== null && <p>{stands ? words.history.countsAgain : words.history.countsNot}</p>}
    </li>
  );
}

function headingOf(
  voids: Step["voids"],
  words: { readonly amended: string; readonly voided: Record<"entry" | "amendment" | "void", string> },
): string {
  return voids === null ? words.amended : words.voided[voids];
}

/** When it happened, when it was written down, by whom; and the way to what was known then. */
export function Times({ entry: { at, recorded } }: { readonly entry: Entry }) {
  const { words, day } = useSpeech();
  const time = (instant: string) => words.shift.on(clock(instant), day(instant));
  return (
    <dl className="both-times">
      {at !== undefined && (
        <div>
          <dt>{words.history.happened}</dt>
          <dd>{time(at)}</dd>
        </div>
      )}
      <div>
        <dt>{words.history.written}</dt>
        <dd>{time(recorded.at)}</dd>
      </div>
      <div>
        <dt>{words.history.author}</dt>
        <dd>
          {recorded.by.name}
          {recorded.source === "device" && `, ${words.history.byDevice}`}
        </dd>
      </div>
      <div>
        <dt className="unseen">{words.asOf.earlier}</dt>
        <dd>
          <button type="button" onClick={() => go({ asOf: recorded.at, entry: null, view: null })}>
            {words.history.shiftThen}
          </button>
        </dd>
      </div>
    </dl>
  );
}

function Values({ changes }: { readonly changes: readonly FieldChange[] }) {
  const speech = useSpeech();
  return (
    <details>
      <summary>{speech.words.history.values}</summary>
      <dl className="values">
        {changes
          .filter(({ field }) => field !== "at")
          .map(({ field, after }) => (
            <div key={field}>
              <dt>{fieldName(field, speech)}</dt>
              <dd>{fieldValue(field, after, speech)}</dd>
            </div>
          ))}
      </dl>
    </details>
  );
}

function OldAndNew({ changes }: { readonly changes: readonly FieldChange[] }) {
  const speech = useSpeech();
  const { words } = speech;
  return (
    <table className="old-new">
      <caption className="unseen">{words.history.oldAndNew}</caption>
      <thead>
        <tr>
          <th scope="col">{words.history.value}</th>
          <th scope="col">{words.history.was}</th>
          <th scope="col">{words.history.is}</th>
        </tr>
      </thead>
      <tbody>
        {changes.map(({ field, before, after }) => (
          <tr key={field}>
            <th scope="row">{fieldName(field, speech)}</th>
            <td>
              <del>{fieldValue(field, before, speech)}</del>
            </td>
            <td>
              <ins>{fieldValue(field, after, speech)}</ins>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
