/** Who and when: the patient with bed and identifier, the shift with the ones before and after, how it is signed. */

import type { ShiftFigures, Stay, StayShift } from "../api/shapes.js";
import { shiftKey } from "../api/sheet.js";
import { go } from "../ui/going.js";
import { ViewHeading } from "../ui/heading.js";
import { type Speech, useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";

export function PatientHead({ stay }: { readonly stay: Stay }) {
  const { words } = useSpeech();
  const { bed, patient } = stay;
  return (
    <ViewHeading className="patient">
      <span className="bed">{bed === undefined ? words.patients.noBed : words.patients.bed(bed)}</span>{" "}
      <span>{patient.name ?? patient.identifier}</span>{" "}
      {patient.name && <span className="soft">{patient.identifier}</span>}
    </ViewHeading>
  );
}

interface ShiftControlsProps {
  readonly shifts: readonly StayShift[];
  readonly shown: ShiftFigures;
}

export function ShiftControls({ shifts, shown }: ShiftControlsProps) {
  const speech = useSpeech();
  const { words } = speech;
  const index = shifts.findIndex((shift) => shiftKey(shift) === shown.shift);
  const [later, earlier] = [shifts[index - 1], shifts[index + 1]];
  return (
    <div className="controls">
      <label htmlFor="shift">{words.shift.label}</label>
      <select id="shift" value={shown.shift} onChange={(event) => go({ shift: event.target.value })}>
        {shifts.map((shift) => (
          <option key={shiftKey(shift)} value={shiftKey(shift)}>
            {shiftName(shift, speech)}
          </option>
        ))}
      </select>
      <Step text={words.shift.earlier} to={earlier} />
      <Step text={words.shift.later} to={later} />
      <button type="button" onClick={() => go({ shift: shown.shift, print: "handover" })}>
        {words.shift.print}
      </button>
      <p className="soft">
        {words.shift.states[shown.state]}
        {Date.parse(shown.until) >= Date.parse(shown.end) && `. ${words.shift.over}`}
      </p>
    </div>
  );
}

function Step({ text, to }: { readonly text: string; readonly to: StayShift | undefined }) {
  return (
    <button type="button" disabled={to === undefined} onClick={() => to && go({ shift: shiftKey(to) })}>
      {text}
    </button>
  );
}

function shiftName({ date, name, label, start, end }: StayShift, { day }: Speech): string {
  return `${day(date)}, ${label ?? name}, ${clock(start)}–${clock(end)}`;
}
