/** The list of a unit's patients. Nobody is chosen beforehand: the first of a list is not the one meant. */

import type { Encounter, Unit } from "./answers.js";
import { element } from "./elements.js";
import { clock, dateOf, dayName } from "./wall.js";
import { words } from "./words.js";

interface PatientList {
  readonly units: readonly Unit[];
  readonly unit: string;
  readonly encounters: readonly Encounter[];
  /** Whether discharged patients are listed too. */
  readonly discharged: boolean;
  choose(list: { unit: string; discharged: boolean }): void;
  open(encounter: string): void;
}

export function patientsSection(list: PatientList): HTMLElement {
  return element(
    "section",
    { "aria-labelledby": "patients-heading" },
    element("h1", { id: "patients-heading", tabindex: -1 }, words.patients.heading),
    controls(list),
    list.encounters.length === 0
      ? element("p", { class: "empty" }, list.discharged ? words.patients.none : words.patients.noneOpen)
      : element("ul", { class: "patients" }, ...byBed(list.encounters).map((one) => item(one, list))),
  );
}

function controls(list: PatientList): HTMLElement {
  const units = element("select", { id: "unit" });
  for (const unit of list.units) units.append(new Option(unit.name, unit.id, false, unit.id === list.unit));
  const discharged = element("input", { type: "checkbox", id: "discharged" });
  discharged.checked = list.discharged;
  const chosen = () => list.choose({ unit: units.value, discharged: discharged.checked });
  units.addEventListener("change", chosen);
  discharged.addEventListener("change", chosen);
  return element(
    "div",
    { class: "controls" },
    element("label", { for: "unit" }, words.patients.unit),
    units,
    element("label", { class: "check", for: "discharged" }, discharged, words.patients.discharged),
  );
}

function byBed(encounters: readonly Encounter[]): Encounter[] {
  const bed = (encounter: Encounter) => encounter.bed ?? "\uffff";
  return [...encounters].sort((a, b) => bed(a).localeCompare(bed(b), "en", { numeric: true }));
}

function item(encounter: Encounter, list: PatientList): HTMLElement {
  const since = words.patients.since(dayName(dateOf(encounter.admittedAt)));
  const until = encounter.dischargedAt ? words.patients.until(dayName(dateOf(encounter.dischargedAt))) : null;
  const left = encounter.leftAt ? words.patients.left(encounter.unit, clock(encounter.leftAt)) : null;
  const link = element(
    "a",
    { href: `?encounter=${encodeURIComponent(encounter.id)}` },
    element("span", { class: "bed" }, words.patients.bed(encounter.bed)),
    element("span", {}, encounter.patient.name ?? encounter.patient.identifier),
    element("span", { class: "soft" }, encounter.patient.name ? encounter.patient.identifier : ""),
    element("span", { class: "soft" }, left ?? until ?? since),
  );
  link.addEventListener("click", (event) => {
    if (event.metaKey || event.ctrlKey || event.shiftKey) return;
    event.preventDefault();
    list.open(encounter.id);
  });
  return element("li", {}, link);
}
