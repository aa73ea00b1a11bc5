/** Who signed what of the shift so far, whether it still is as it was, and what is another now. */

import type { ShiftFigures } from "../api/shapes.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { figureSentence } from "./sentences.js";

export function Signatures({ shift }: { readonly shift: ShiftFigures }) {
  const speech = useSpeech();
  const { words, clockSeenFrom } = speech;
  const { signatures } = shift;
  if (signatures.length === 0) return null;
  const time = (instant: string) => clockSeenFrom(instant, shift.start);
  return (
    <section aria-labelledby="signed">
      <h3 id="signed">{words.sign.before}</h3>
      <ul className="sentences">
        {signatures.map(({ id, from, to, by, signedAt, state, remark, differences }) => (
          <li key={id}>
            <p>
              <strong>{words.sign.span1(time(from), time(to))}</strong>,{" "}
              {words.sign.by(by.name, time(signedAt))}, {words.sign.states[state]}
              {remark !== undefined && (
                <>
                  . <q>{remark}</q>
                </>
              )}
            </p>
            {differences.length > 0 && state !== "replaced" && (
              <>
                <p className="soft">{words.sign.differences}</p>
                <ul className="differences">
                  {differences.map((one) => (
                    <li key={`${one.row.of} ${one.row.key} ${one.start}`}>
                      {together(figureSentence(one, one.signed, one.now, words.sign.difference, speech))}
                    </li>
                  ))}
                </ul>
              </>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
