/**
 * One patient's shift: asks for everything the sheet needs and shows it. All figures of a view come
 * from one round of questions; a refusal of any leaves the view as it was.
 */

import type { Stay, StayShift, Totals, Volumes } from "./answers.js";
import type { Client } from "./client.js";
import { element } from "./elements.js";
import { bagNames, type Names, nowSection } from "./now.js";
import { type ShiftAnswers, sheet } from "./sheet.js";
import { clock, dayName, moment } from "./wall.js";
import { words } from "./words.js";

export interface StayView {
  readonly stay: Stay;
  /** Null when the stay has no shift yet. */
  readonly shown: { shift: StayShift; answers: ShiftAnswers; totals: Totals; names: Names } | null;
}

/** "2026-03-04/day", as queries name a shift. */
export function shiftKey(shift: StayShift): string {
  return `${shift.date}/${shift.name}`;
}

/** Asks for a stay and the shift `wanted`, or its latest when that is null or not of the stay. */
export async function askForStay(
  client: Client,
  encounter: string,
  wanted: string | null,
  signal: AbortSignal,
): Promise<StayView> {
  const stay = await client.stay(encounter, signal);
  const shift = stay.shifts.find((one) => shiftKey(one) === wanted) ?? stay.shifts[0];
  if (shift === undefined) return { stay, shown: null };
  const key = shiftKey(shift);
  const [lines, channels, flows, hangings] = await Promise.all([
    client.volumes(encounter, key, "line", signal),
    client.volumes(encounter, key, "channel", signal),
    client.flows(encounter, key, signal),
    client.hangings(encounter, signal),
  ]);
  const totals = await client.totals(encounter, isRunning(lines) ? null : lines.to, signal);
  const names = {
    bags: bagNames([...hangings, ...flows.flows]),
  };
  return { stay, shown: { shift, answers: { lines, channels, flows }, totals, names } };
}

/** Whether the shift of these figures is still running. */
export function isRunning(volumes: Volumes): boolean {
  return moment(volumes.until) < moment(volumes.to);
}

/** The view, for a page `width` pixels wide; `choose` is called with the shift to show instead. */
export function staySections(view: StayView, width: number, choose: (shift: string) => void): HTMLElement[] {
  const heading = patientHeading(view.stay);
  if (view.shown === null) return [heading, element("p", { class: "empty" }, words.shift.none)];
  const { shift, answers, totals, names } = view.shown;
  return [
    heading,
    shiftControls(view.stay.shifts, shift, choose),
    nowSection(totals, isRunning(answers.lines), names),
    sheet(answers, width),
  ];
}

function patientHeading({ bed, patient }: Stay): HTMLElement {
  return element(
    "h1",
    { class: "patient", tabindex: -1 },
    element("span", { class: "bed" }, words.patients.bed(bed)),
    " ",
    element("span", {}, patient.name ?? patient.identifier),
    " ",
    patient.name ? element("span", { class: "soft" }, patient.identifier) : null,
  );
}

function shiftControls(
  shifts: readonly StayShift[],
  shown: StayShift,
  choose: (shift: string) => void,
): HTMLElement {
  const select = element("select", { id: "shift" });
  for (const shift of shifts) {
    const key = shiftKey(shift);
    select.append(new Option(shiftName(shift), key, false, key === shiftKey(shown)));
  }
  select.addEventListener("change", () => choose(select.value));
  const index = shifts.indexOf(shown);
  const step = (id: string, text: string, target: StayShift | undefined) => {
    const button = element("button", { type: "button", id, disabled: target === undefined }, text);
    if (target !== undefined) button.addEventListener("click", () => choose(shiftKey(target)));
    return button;
  };
  return element(
    "div",
    { class: "controls" },
    element("label", { for: "shift" }, words.shift.label),
    select,
    step("earlier", words.shift.earlier, shifts[index + 1]),
    step("later", words.shift.later, shifts[index - 1]),
  );
}

function shiftName(shift: StayShift): string {
  return `${dayName(shift.date)}, ${shift.label ?? shift.name}, ${clock(shift.start)}–${clock(shift.end)}`;
}
