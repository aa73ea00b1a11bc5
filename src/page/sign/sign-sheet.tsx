/**
 * Signing: what would be signed in a few figures, what is not written down, not known, not measured and open, what
 * is handed over, then the signature. What was signed before stands under it, with what is another now.
 */

import { useMutation, useQueryClient } from "@tanstack/react-query";
import { useState } from "react";
import { refreshEncounter } from "../api/asking.js";
import { Refused } from "../api/problems.js";
import type { Stay } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { type SeenFigure, signShift } from "../api/signing.js";
import { Sheet } from "../ui/sheet.js";
import { TextField } from "../ui/text-field.js";
import { useSpeech } from "../words/language.js";
import { figureSentence } from "./sentences.js";
import { Signatures } from "./signatures.js";
import { WhatIsSigned } from "./what-is-signed.js";

interface SignSheetProps {
  readonly stay: Stay;
  readonly sheet: ShiftSheet;
  readonly close: () => void;
}

/** A remark has a few letters at least. */
const LETTERS = 3;

export function SignSheet({ stay, sheet, close }: SignSheetProps) {
  const speech = useSpeech();
  const { words, clockSeenFrom } = speech;
  const time = (instant: string) => clockSeenFrom(instant, sheet.shift.start);
  const queries = useQueryClient();
  const [remark, setRemark] = useState("");
  const { shift } = sheet;
  const { toSign, openQuestions } = shift;
  const signing = useMutation({
    networkMode: "always",
    mutationFn: signShift,
    onSettled: () => refreshEncounter(queries, stay.id),
  });
  // Once it is signed, what has passed since then is for later.
  const asked = signing.isSuccess ? null : toSign;
  const said = remark.trim();
  const short = said.length > 0 && said.length < LETTERS;
  const needed = openQuestions.length > 0;
  const ready = asked !== null && !signing.isPending && !short && (!needed || said.length >= LETTERS);
  return (
    <Sheet
      title={words.sign.title(`${speech.day(shift.date)}, ${shift.label}`)}
      close={close}
      {...(asked && { closeName: words.record.cancel })}
    >
      <form
        className="signing"
        onSubmit={(event) => {
          event.preventDefault();
          if (!ready || asked === null) return;
          signing.mutate({ encounter: stay.id, shift: shift.shift, toSign: asked, remark: said });
        }}
      >
        {signing.isSuccess && (
          <p role="alert">
            <strong>{words.sign.signed}</strong>{" "}
            {words.sign.span1(time(signing.data.from), time(signing.data.to))}
          </p>
        )}
        {asked === null && !signing.isSuccess && <p>{words.sign.nothing}</p>}
        {asked !== null && (
          <>
            <p>
              {words.sign.span(time(asked.from), time(asked.to))}{" "}
              {Date.parse(asked.to) < Date.parse(shift.end) && words.sign.soFar}
            </p>
            <WhatIsSigned sheet={sheet} />
            <TextField
              label={words.sign.remark}
              text={remark}
              put={setRemark}
              optional={!needed}
              hint={needed ? words.sign.remarkNeeded : undefined}
              wrong={short ? words.sign.remarkShort : undefined}
            />
            {signing.error !== null && <NotSigned failure={signing.error} />}
            <button type="submit" className="act wide" disabled={!ready}>
              {words.sign.sign}
            </button>
          </>
        )}
        <Signatures shift={shift} />
      </form>
    </Sheet>
  );
}

/** Why it is not signed: figures that changed meanwhile are named. */
function NotSigned({ failure }: { readonly failure: unknown }) {
  const speech = useSpeech();
  const { words, language } = speech;
  if (failure instanceof Refused && failure.problem.type === "/problems/digest-changed") {
    const { differences = [] } = failure.problem as { readonly differences?: readonly SeenFigure[] };
    return (
      <div role="alert">
        <p>{words.sign.changed}</p>
        <ul className="sentences">
          {differences.map((one) => (
            <li key={`${one.row.of} ${one.row.key} ${one.start}`}>
              {figureSentence(one, one.seen, one.now, words.sign.seen, speech)}
            </li>
          ))}
        </ul>
      </div>
    );
  }
  return (
    <p role="alert">
      <strong>{words.sign.failed}</strong>{" "}
      {failure instanceof Refused ? (
        <span lang={language === "en" ? undefined : "en"}>{failure.message}</span>
      ) : (
        words.failed.noAnswer
      )}
    </p>
  );
}
