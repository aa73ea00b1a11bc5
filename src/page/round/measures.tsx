/** How well the shift is documented: each measure with n of N, and in one tap what it counts and of whom. */

import { useState } from "react";
import type { Audit, Measure } from "../api/shapes.js";
import { Sheet } from "../ui/sheet.js";
import { useSpeech } from "../words/language.js";
import type { Sifted } from "./asking.js";
import { measureValue } from "./measure-value.js";

interface MeasuresProps {
  readonly audit: Audit;
  readonly sifted: Sifted;
  readonly sift: (sifted: Sifted) => void;
}

export function Measures({ audit, sifted, sift }: MeasuresProps) {
  const { words } = useSpeech();
  const [asked, setAsked] = useState<Measure | null>(null);
  const told = audit.measures.filter(({ of }) => of > 0);
  const untold = audit.measures.filter(({ of }) => of === 0);
  return (
    <section aria-labelledby="measures">
      <h2 id="measures">{words.round.measures}</h2>
      <p className="soft">{words.round.measuresHint}</p>
      <MeasureList measures={told} ask={setAsked} />
      {untold.length > 0 && (
        <details>
          <summary>{words.round.untold(untold.length)}</summary>
          <MeasureList measures={untold} ask={setAsked} />
        </details>
      )}
      {asked && (
        <MeasureSheet
          measure={asked}
          close={() => setAsked(null)}
          only={() => {
            sift({ ...sifted, counted: asked.key });
            setAsked(null);
          }}
        />
      )}
    </section>
  );
}

interface MeasureListProps {
  readonly measures: readonly Measure[];
  readonly ask: (measure: Measure) => void;
}

/** Their names and definitions are the service's, which speaks English. */
function MeasureList({ measures, ask }: MeasureListProps) {
  const { words } = useSpeech();
  return (
    <ul className="measures">
      {measures.map((measure) => (
        <li key={measure.key}>
          <button type="button" onClick={() => ask(measure)}>
            <span lang="en">{measure.label}</span>
            <strong>{words.round.nOf(measure.n, measure.of)}</strong>
          </button>
        </li>
      ))}
    </ul>
  );
}

interface MeasureSheetProps {
  readonly measure: Measure;
  readonly close: () => void;
  readonly only: () => void;
}

function MeasureSheet({ measure, close, only }: MeasureSheetProps) {
  const speech = useSpeech();
  const { words } = speech;
  const { label, definition, counting, n, of, over, value, unit } = measure;
  return (
    <Sheet title={label} close={close}>
      <p className="why-figure">
        <strong>{words.round.nOf(n, of)}</strong>
      </p>
      <p lang="en">{definition}</p>
      <p lang="en">{counting}</p>
      {over !== null && value !== null && (
        <p>
          {words.round.over[over]}: <strong>{measureValue(value, unit, speech)}</strong>
        </p>
      )}
      {n > 0 && (
        <p className="sheet-acts">
          <button type="button" className="act" onClick={only}>
            {words.round.onlyThese(n)}
          </button>
        </p>
      )}
    </Sheet>
  );
}
