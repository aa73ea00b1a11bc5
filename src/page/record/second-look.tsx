/**
 * The question after a reading that disagrees: look at the device again. It is confirmed with one touch, typed
 * anew, or explained by what the numbers make likely, each with the entry that would settle it.
 */

import { useEffect, useRef } from "react";
import type { Disagreement } from "../api/shapes.js";
import { Choice } from "../ui/choice.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { hasAct } from "./answering.js";
import { type Answer, type Change, type Draft, doubtName, type SecondLook } from "./draft.js";
import { FieldShown } from "./fields.js";
import type { Asking } from "./forms/asking.js";
import { fillField } from "./forms/ready.js";

interface SecondLookProps {
  readonly look: SecondLook;
  readonly answers: Draft["answers"];
  readonly change: (change: Change) => void;
  readonly confirm: () => void;
  readonly sending: boolean;
  readonly asking: Asking;
}

export function SecondLookShown({ look, answers, change, confirm, sending, asking }: SecondLookProps) {
  const { words } = useSpeech();
  const { doubt: said } = words.record;
  const section = useRef<HTMLElement>(null);
  useEffect(() => {
    section.current?.focus({ preventScroll: true });
    section.current?.scrollIntoView({ block: "nearest" });
  }, []);
  return (
    <section ref={section} tabIndex={-1} className="question" aria-label={words.open.severities.question}>
      <h3>{said.heading}</h3>
      {look.disagreements.map((doubt) => (
        <Differs key={doubtName(doubt)} doubt={doubt} />
      ))}
      <div className="controls">
        <button type="button" className="act" disabled={sending} onClick={confirm}>
          {said.confirm}
        </button>
        <button type="button" onClick={() => change({ do: "back" })}>
          {said.change}
        </button>
      </div>
      {look.disagreements.map((doubt) => (
        <Reasons
          key={doubtName(doubt)}
          doubt={doubt}
          look={look}
          answer={answers[doubtName(doubt)]}
          change={change}
          asking={asking}
        />
      ))}
    </section>
  );
}

function Differs({ doubt }: { readonly doubt: Disagreement }) {
  const { words, inTenths } = useSpeech();
  const { total, channel, chamber, reading, expected, difference } = doubt;
  const what = [channel ?? chamber, total && words.toWrite.totals[total]].filter(Boolean).join(", ");
  const { more, less } = words.record.effect;
  const by = (difference < 0 ? less : more)(inTenths(Math.abs(difference)));
  return (
    <p>
      <strong>{what}.</strong>{" "}
      {together(words.record.doubt.differs(inTenths(reading), inTenths(expected), by))}
    </p>
  );
}

interface ReasonsProps {
  readonly doubt: Disagreement;
  readonly look: SecondLook;
  readonly answer: Answer | undefined;
  readonly change: (change: Change) => void;
  readonly asking: Asking;
}

function Reasons({ doubt, look, answer, change, asking }: ReasonsProps) {
  const { words, language } = useSpeech();
  const name = doubtName(doubt);
  const reasons = doubt.reasons
    .map((reason, index) => ({ reason, index }))
    .filter(({ reason }) => hasAct(look, reason));
  if (reasons.length === 0) return null;
  const chosen = answer === undefined ? undefined : doubt.reasons[answer.choice];
  const kinds = words.record.doubt.reasonKinds;
  return (
    <>
      <Choice
        label={words.record.doubt.reasons}
        className="column"
        options={reasons.map(({ reason: { kind, sentence, tied }, index }) => ({
          value: String(index),
          label: tied ? `${kinds[kind]} (${words.record.doubt.alike})` : kinds[kind],
          hint: together(sentence),
          hintLanguage: language === "en" ? undefined : "en",
        }))}
        value={answer === undefined ? "" : String(answer.choice)}
        choose={(value) => change({ do: "answer", question: name, choice: Number(value) })}
      />
      {chosen?.fill.map((pointer) => (
        <FieldShown
          key={pointer}
          field={fillField(asking, chosen, pointer)}
          text={answer?.typed[pointer] ?? ""}
          put={(text) => change({ do: "fill", question: name, pointer, text })}
        />
      ))}
    </>
  );
}
