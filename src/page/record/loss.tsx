/**
 * The question before a total is forgotten: how much, since when, and the reading to take, which is the first answer.
 * The others leave it unread, each for its reason.
 */

import type { TotalAtRisk } from "../api/shapes.js";
import { Choice } from "../ui/choice.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { type Answer, type Change, riskName } from "./draft.js";
import { FieldShown } from "./fields.js";
import type { Asking } from "./forms/asking.js";
import { fillField } from "./forms/ready.js";

interface LossProps {
  readonly risk: TotalAtRisk;
  readonly answer: Answer | undefined;
  readonly change: (change: Change) => void;
  readonly asking: Asking;
}

export function Loss({ risk, answer, change, asking }: LossProps) {
  const { words, inTenths, clockSeenFrom } = useSpeech();
  const { loss } = words.record;
  const { channel, chamber, total, atRisk, expected, since, at } = risk;
  const name = riskName(risk);
  const choice = answer?.choice ?? 0;
  const ready = risk.answers[choice];
  const what = [channel ?? chamber, total && words.toWrite.totals[total]].filter(Boolean).join(", ");
  return (
    <section className="question" aria-label={words.open.severities.question}>
      <h3>{atRisk === null ? loss.unknown : loss.heading(inTenths(atRisk))}</h3>
      <p>{together(loss.what(what, clockSeenFrom(since, at)))}</p>
      <LossPicture risk={risk} />
      {ready?.fill.map((pointer) => {
        const field = fillField(asking, ready, pointer);
        const hint = choice === 0 && expected !== null ? loss.should(inTenths(expected)) : undefined;
        return (
          <FieldShown
            key={pointer}
            field={hint === undefined ? field : { ...field, hint }}
            text={answer?.typed[pointer] ?? ""}
            put={(text) => change({ do: "fill", question: name, pointer, text })}
          />
        );
      })}
      <Choice
        label={loss.answer}
        options={risk.answers.map((one, index) => ({
          value: String(index),
          label: index === 0 ? loss.read : (leaveName(one.entries, loss.leave) ?? one.text),
        }))}
        value={String(choice)}
        choose={(value) => change({ do: "answer", question: name, choice: Number(value) })}
      />
    </section>
  );
}

type Leave = Readonly<Record<"already-cleared" | "device-gone" | "unreadable" | "other", string>>;

/** The reason of an answer that leaves it unread. */
function leaveName(entries: readonly object[], names: Leave): string | undefined {
  const { leaveUncaptured } = entries[0] as { readonly leaveUncaptured?: { readonly reason: keyof Leave } };
  return leaveUncaptured && names[leaveUncaptured.reason];
}

/** The total as a bar: filled as far as it is written down, the outline that would vanish. */
function LossPicture({ risk: { expected, atRisk } }: { readonly risk: TotalAtRisk }) {
  if (expected === null || atRisk === null || expected <= 0) return null;
  const written = Math.min(100, Math.max(0, (100 * (expected - atRisk)) / expected));
  return (
    <svg className="gauge" aria-hidden="true" height={22} width="100%">
      <rect className="gauge-lost" x={0.75} y={0.75} width="99%" height={20.5} />
      <rect className="gauge-written" x={0.75} y={0.75} width={`${written * 0.99}%`} height={20.5} />
    </svg>
  );
}
