/** What of the round is shown: which shift, all patients or those a measure counts, in which order; and the table as CSV. */

import { useState } from "react";
import type { Audit, MeasureKey, Unit } from "../api/shapes.js";
import { go } from "../ui/going.js";
import { Failed } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";
import { type AuditAsked, auditAsCsv, type Sifted } from "./asking.js";
import { shiftBeside } from "./shifts.js";

interface RoundControlsProps {
  readonly unit: Unit;
  readonly shift: string;
  readonly latest: string;
  readonly audit: Audit;
  readonly sifted: Sifted;
  readonly order: "stake" | "bed";
  readonly sift: (sifted: Sifted) => void;
  readonly sort: (order: "stake" | "bed") => void;
}

export function RoundControls(props: RoundControlsProps) {
  const { unit, shift, latest, audit, sifted, order, sift, sort } = props;
  const { words, day } = useSpeech();
  const earlier = shiftBeside(unit, shift, -1);
  const later = shift === latest ? null : shiftBeside(unit, shift, 1);
  return (
    <>
      <div className="controls">
        <p className="round-shift">
          {day(audit.start)}, {audit.label}, {clock(audit.start)}–{clock(audit.end)}
        </p>
        <Step text={words.shift.earlier} to={earlier} />
        <Step text={words.shift.later} to={later} />
      </div>
      <div className="controls">
        <label className="field">
          {words.round.order}
          <select
            value={sifted.sort ?? order}
            onChange={({ target: { value } }) => {
              const own = value === "stake" || value === "bed";
              if (own) sort(value);
              sift({ ...sifted, sort: own ? null : (value as MeasureKey) });
            }}
          >
            <option value="stake">{words.round.byStake}</option>
            <option value="bed">{words.round.byBed}</option>
            <MeasureOptions audit={audit} />
          </select>
        </label>
        <label className="field">
          {words.round.only}
          <select
            value={sifted.counted ?? ""}
            onChange={({ target: { value } }) =>
              sift({ ...sifted, counted: value === "" ? null : (value as MeasureKey) })
            }
          >
            <option value="">{words.round.everybody}</option>
            <MeasureOptions audit={audit} />
          </select>
        </label>
      </div>
    </>
  );
}

/** Every measure of which something can be told; their names are the service's, in English. */
function MeasureOptions({ audit }: { readonly audit: Audit }) {
  return audit.measures
    .filter(({ of }) => of > 0)
    .map(({ key, label }) => (
      <option key={key} value={key} lang="en">
        {label}
      </option>
    ));
}

function Step({ text, to }: { readonly text: string; readonly to: string | null }) {
  return (
    <button type="button" disabled={to === null} onClick={() => to !== null && go({ shift: to })}>
      {text}
    </button>
  );
}

/** Hands the rows shown over as a file. */
export function Download({ asked }: { readonly asked: AuditAsked }) {
  const { words } = useSpeech();
  const [failure, setFailure] = useState<unknown>(null);
  const save = async () => {
    try {
      const text = await auditAsCsv(asked);
      const address = URL.createObjectURL(new Blob([text], { type: "text/csv" }));
      const link = document.createElement("a");
      link.href = address;
      link.download = `${asked.unit}-${asked.shift.replace("/", "-")}.csv`;
      link.click();
      URL.revokeObjectURL(address);
      setFailure(null);
    } catch (cause) {
      setFailure(cause);
    }
  };
  return (
    <>
      <div className="controls">
        <button type="button" onClick={() => void save()}>
          {words.round.download}
        </button>
      </div>
      {failure !== null && <Failed failure={failure} staleFrom={null} again={() => void save()} />}
    </>
  );
}
