/**
 * The sheet in which something is recorded: when, what, what it does, and one button. What the ledger asks is asked
 * in here, and what was typed stays.
 */

import { type KeyboardEvent, useState } from "react";
import { NoAnswer, Refused } from "../api/problems.js";
import type { Recorded } from "../api/shapes.js";
import { NumberPad } from "../ui/number-pad.js";
import { WithPad } from "../ui/pad.js";
import { Sheet } from "../ui/sheet.js";
import { TimeChooser } from "../ui/time-chooser.js";
import { useSpeech } from "../words/language.js";
import { riskName } from "./draft.js";
import { EffectShown, wrongIn } from "./effect.js";
import { Fields } from "./fields.js";
import type { Asking } from "./forms/asking.js";
import { Loss } from "./loss.js";
import { formOf, type Opened } from "./opened.js";
import { useRecording } from "./recording.js";
import { SecondLookShown } from "./second-look.js";
import type { Clock } from "./time.js";

interface RecordSheetProps {
  readonly opened: Opened;
  readonly encounter: string;
  readonly asking: Asking;
  readonly clock: Clock;
  /** Whether the shift that is shown is over. */
  readonly over: boolean;
  readonly close: () => void;
  readonly done: (recorded: Recorded) => void;
}

export function RecordSheet({ opened, encounter, asking, clock, over, close, done }: RecordSheetProps) {
  const { words, decimal, language } = useSpeech();
  // Kept as it was opened: no field moves away under the finger when figures are asked for anew.
  const [form] = useState(() => formOf(opened, asking));
  const state = useRecording({ encounter, form, clock, decimal, done });
  const { draft, change, fields, risks, tried, request } = state;
  const look = draft.secondLook;
  return (
    <Sheet title={form.title} close={close} closeName={words.record.cancel} keep>
      <WithPad>
        <form
          className="recording"
          onKeyDown={goOn}
          onSubmit={(event) => {
            event.preventDefault();
            if (state.ready) state.send();
          }}
        >
          {form.timed && (
            <TimeChooser
              clock={clock}
              time={draft.time}
              over={over}
              choose={(time) => change({ do: "time", time })}
            />
          )}
          <div className="recording-body">
            <div className="asked">
              {form.told !== undefined && (
                <p className="soft" lang={form.toldByService && language !== "en" ? "en" : undefined}>
                  {form.told}
                </p>
              )}
              <Fields
                fields={fields}
                values={draft.values}
                put={(field, text) => change({ do: "put", field, text })}
              />
              {risks.map((risk) => (
                <Loss
                  key={riskName(risk)}
                  risk={risk}
                  answer={draft.answers[riskName(risk)]}
                  change={change}
                  asking={asking}
                />
              ))}
            </div>
            <NumberPad />
          </div>
          {look !== null && (
            <SecondLookShown
              look={look}
              answers={draft.answers}
              change={change}
              confirm={state.confirm}
              sending={state.sending}
              asking={asking}
            />
          )}
          {(look === null || request !== null) && (
            <>
              <EffectShown
                tried={tried}
                trying={state.trying}
                untried={state.untried}
                sheet={asking.sheet}
                whole={request !== null}
              />
              {state.failure !== null && <NotRecorded failure={state.failure} />}
              <button type="submit" className="act wide" disabled={!state.ready}>
                {buttonName(opened, state.sending, words.record)}
              </button>
            </>
          )}
        </form>
      </WithPad>
    </Sheet>
  );
}

/** Enter goes on to the next number that is not typed yet; after the last it records. */
function goOn(event: KeyboardEvent<HTMLFormElement>): void {
  if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement)) return;
  const numbers = [...event.currentTarget.querySelectorAll<HTMLInputElement>(".number input")];
  const here = numbers.indexOf(event.target);
  const next = numbers.slice(here + 1).find(({ value }) => value === "");
  if (here === -1 || next === undefined) return;
  event.preventDefault();
  next.focus();
}

function buttonName(
  { act }: Opened,
  sending: boolean,
  words: ReturnType<typeof useSpeech>["words"]["record"],
) {
  if (sending) return `${words.sending}…`;
  return act === "void" ? words.undo : words.record;
}

/** Why it is not recorded; without an answer nobody knows. */
function NotRecorded({ failure }: { readonly failure: unknown }) {
  const { words, language } = useSpeech();
  if (failure instanceof NoAnswer) return <p role="alert">{words.record.unanswered}</p>;
  if (!(failure instanceof Refused)) return <p role="alert">{words.record.failed}</p>;
  if (failure.problem.type === "/problems/entry-exists") return <p role="alert">{words.record.known}</p>;
  return (
    <p role="alert">
      <strong>{words.record.failed}</strong>{" "}
      <span lang={language === "en" ? undefined : "en"}>{wrongIn(failure)}</span>
    </p>
  );
}
