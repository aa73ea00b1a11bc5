/**
 * What LOINC calls the categories, where it has a code for a volume at one point in time. Codes for fixed hours
 * are volume rates and are left out, since intervals here are shifts and hours of any length. What is infused has
 * none that could be confirmed: the one for intravascular fluid is known by its name only.
 */

import type { Category } from "./posting.js";

/** By name and axes (Vol, Pt), each as it is published in the profiles or mapping named beside it. */
const LOINC: Readonly<Partial<Record<Category, string>>> = {
  // "Fluid intake oral Measured": profiles of the Medical Informatics Initiative, intensive care.
  oral: "9000-1",
  // "Fluid intake enteral tube Measured": the same.
  "enteral-feed": "8953-2",
  // "Urine output": the same.
  urine: "9187-6",
  // "Fluid output gastric tube": MIMIC's outputevents_to_loinc.csv (LOINC 2.72).
  gastric: "9149-6",
  // "Fluid output emesis": a public terminology mapping.
  emesis: "9137-1",
  // "Output.stool [Volume]": Medical Informatics Initiative.
  stool: "9217-1",
  // "Fluid output wound drain": the same.
  drain: "9203-1",
  // "Fluid output chest tube": MIMIC's mapping.
  "chest-drain": "9129-8",
  // "Blood loss [Volume] Measured": Medical Informatics Initiative.
  "blood-loss": "81661-1",
  // "Ultrafiltrate volume removed": the same.
  "fluid-removal": "99741-1",
};

export interface Code {
  readonly system: "http://loinc.org";
  readonly code: string;
}

export function codeOf(category: Category | null): Code | null {
  const code = category === null ? undefined : LOINC[category];
  return code === undefined ? null : { system: "http://loinc.org", code };
}
