/**
 * What LOINC calls the categories, where it has a code for a volume at one point in time. Codes for fixed hours
 * are volume rates and are left out, since intervals here are shifts and hours of any length. Blood products,
 * infused or lost, have none.
 */

import type { Category } from "./posting.js";

const LOINC: Readonly<Partial<Record<Category, string>>> = {
  oral: "9000-1",
  "enteral-feed": "8953-2",
  urine: "9187-6",
  gastric: "9149-6",
  emesis: "9137-1",
  stool: "9217-1",
  drain: "9203-1",
  "chest-drain": "9129-8",
};

export interface Code {
  readonly system: "http://loinc.org";
  readonly code: string;
}

export function codeOf(category: Category | null): Code | null {
  const code = category === null ? undefined : LOINC[category];
  return code === undefined ? null : { system: "http://loinc.org", code };
}
