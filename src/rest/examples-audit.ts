/**
 * Examples of the audit for the API description: one invented patient whose total was cleared unread. A test holds
 * them to the schemas.
 */

import { type Form, UNITS } from "../audit/measure.js";
import { MEASURES } from "../audit/measures.js";
import { auditTable } from "../wire/answers/audit.js";
import { COORDINATES } from "./examples.js";

const at = (clock: string) => `2026-03-04T${clock}:00-06:00`;

/** What is not 0, false or untold of the patient. */
const TOLD: Readonly<Record<string, number | boolean | string | null>> = {
  readings: 2,
  "readings-apart": 0,
  "readings-furthest": 1.5,
  "lines-running": 1,
  "lines-without-entries": 0,
  "longest-without-entry": 150,
  "clears-unread": 1,
  "clears-unread-volume": 137.5,
  "unsigned-minutes": 720,
  "brought-forward-known": true,
  "brought-forward-since": at("06:00"),
};

/** Of which nothing can be told while there is nothing of the kind. */
const UNTOLD = /^(signed-within|signed-furthest|charted|irrigant|longest-delay|changed|carrier-uncharted)/;

function told(key: string, form: Form) {
  return TOLD[key] ?? (UNTOLD.test(key) ? null : form === "yes-no" ? false : 0);
}

export const AUDIT_EXAMPLE = {
  unit: "east-4",
  shift: "2026-03-04/day",
  label: "Day",
  start: at("07:00"),
  end: at("19:00"),
  zone: "America/Chicago",
  asOf: {
    recordedBy: at("19:30"),
    digest: "2c26b46b68ffc68ff99b453c1d30413413422d706483bfa0f98a5e886266e7ae",
    calculation: COORDINATES.asOf.calculation,
  },
  until: at("19:30"),
  measures: MEASURES.map(({ key, label, form, definition, counting, over }) => {
    const value = told(key, form);
    const isNumber = typeof value === "number";
    const counted = isNumber ? value > 0 : value === true || typeof value === "string";
    return {
      ...{ key, label, unit: UNITS[form], definition, counting },
      ...{
        n: counted ? 1 : 0,
        of: value === null ? 0 : 1,
        over,
        value: over !== null && isNumber ? value : null,
      },
    };
  }),
  encounters: [
    {
      encounter: "example",
      from: at("07:00"),
      to: at("19:00"),
      asOf: COORDINATES.asOf,
      values: Object.fromEntries(MEASURES.map(({ key, form }) => [key, told(key, form)])),
    },
  ],
};

export const AUDIT_TABLE_EXAMPLE = auditTable(AUDIT_EXAMPLE);
