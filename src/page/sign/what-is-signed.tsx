/** What a signature would state: the figures, what is complete, unknown, unmeasured, handed over, and open. */

import type { ReactNode } from "react";
import type { Category } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { categoryName } from "../picture/sentences.js";
import { useSpeech } from "../words/language.js";
import { duration, together } from "../words/numbers.js";

const MINUTE = 60_000;

export function WhatIsSigned({ sheet }: { readonly sheet: ShiftSheet }) {
  const speech = useSpeech();
  const { words, figure, inTenths, rate, language } = speech;
  const { shift } = sheet;
  const { balance, totals, unknown, unmeasured, openQuestions, findings } = shift;
  const unwritten = totals.channels.flatMap(({ channel, totals: all }) =>
    all
      .filter(({ atRisk, atLeast }) => atRisk > 0 || atLeast)
      .map(({ total, atRisk }) =>
        words.sign.unwrittenOne(channel, words.toWrite.totals[total], inTenths(atRisk)),
      ),
  );
  const running = totals.channels.flatMap(({ channel, flow }) => {
    if (flow === null) return [];
    const hanging = sheet.hangings.findLast(({ bag }) => bag === flow.bag);
    const fluid = (hanging?.fluid as { name?: string } | undefined)?.name ?? words.lines.unidentified;
    const speed = flow.rate === null ? words.lines.rateUnknown : rate(flow.rate);
    const left = flow.left === null ? "" : `, ${words.sign.left(inTenths(flow.left))}`;
    return [`${words.sign.runs(channel, speed, fluid)}${left}`];
  });
  const questions = findings.filter(({ id }) => openQuestions.includes(id));
  return (
    <>
      <h3>{words.sign.figures}</h3>
      <dl className="balance">
        {(
          [
            ["intake", balance.intake.total, balance.intake.totalCertainty],
            ["output", balance.output.total, balance.output.totalCertainty],
            ["net", balance.netTotal, balance.netTotalCertainty],
          ] as const
        ).map(([key, value, certainty]) => (
          <div key={key}>
            <dt>{words.balance[key]}</dt>
            <dd>
              {words.certainty[certainty]} <strong className="sum-figure">{figure(value)}</strong> mL
            </dd>
          </div>
        ))}
      </dl>
      <Stated heading={words.sign.unwritten} none={words.sign.complete} items={unwritten} />
      <Stated
        heading={words.sign.unknown}
        none={words.sign.nothingUnknown}
        items={unknown.map(({ key, label, minutes }) =>
          words.sign.unknownOne(key === null ? words.lines.noLine : label, duration(minutes * MINUTE)),
        )}
      />
      <Stated
        heading={words.sign.unmeasured}
        none={words.sign.nothingUnmeasured}
        items={unmeasured.map(({ key, occurrences }) =>
          words.balance.unmeasured(
            words.balance.times(occurrences),
            categoryName(key as Category | null, speech),
          ),
        )}
      />
      <Stated heading={words.sign.handedOver} none={words.sign.nothingHandedOver} items={running} />
      <Stated
        heading={words.sign.questions}
        none={words.sign.noQuestions}
        items={questions.map(({ id, code, sentence }) => (
          <span key={id}>
            {words.findings[code]}:{" "}
            <span lang={language === "en" ? undefined : "en"}>{together(sentence)}</span>
          </span>
        ))}
      />
    </>
  );
}

interface StatedProps {
  readonly heading: string;
  /** What is said where there is nothing. */
  readonly none: string;
  readonly items: readonly ReactNode[];
}

function Stated({ heading, none, items }: StatedProps) {
  return (
    <div className="stated">
      <h3>{heading}</h3>
      {items.length === 0 ? (
        <p className="soft">{none}</p>
      ) : (
        <ul>
          {items.map((item, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: two of them may read alike
            <li key={index}>{typeof item === "string" ? together(item) : item}</li>
          ))}
        </ul>
      )}
    </div>
  );
}
