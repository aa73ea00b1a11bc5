/** A bundle for the API description: of an invented patient, with true digests, so that it can be verified. */

import { canonical, digestOf } from "../ledger/record.js";
import { CAUTION } from "./caution.js";
import { ENCOUNTER_EXAMPLE } from "./examples.js";

const NURSE = { id: "nurse-17", name: "Imaginary Nurse", role: "nurse" };

const ADMITTED = {
  chain: "encounter/stay-1",
  sequence: 1,
  id: "0195-admitted",
  recordedAt: "2026-03-04T12:41:00.000Z",
  by: NURSE,
  source: "person",
  previous: "",
  body: {
    kind: "admitted",
    at: "2026-03-04T06:40:00-06:00",
    unit: "east-4",
    bed: "12",
    zone: "America/Chicago",
    shifts: [
      { name: "day", starts: "07:00" },
      { name: "night", starts: "19:00" },
    ],
    settings: {},
    changes: [],
  },
};
const ADMITTED_DIGEST = digestOf(canonical(ADMITTED));

const GIVEN = {
  chain: "encounter/stay-1",
  sequence: 2,
  id: "tea",
  recordedAt: "2026-03-04T13:05:00.000Z",
  by: NURSE,
  source: "person",
  previous: ADMITTED_DIGEST,
  body: {
    id: "tea",
    kind: "intake-measured",
    at: "2026-03-04T07:05:00-06:00",
    category: "oral",
    volume: 150,
  },
};
const GIVEN_DIGEST = digestOf(canonical(GIVEN));

const { ledger: _, shifts: __, ...WHOSE } = ENCOUNTER_EXAMPLE;

export const BUNDLE_EXAMPLE = {
  form: 1,
  caution: CAUTION,
  asOf: { sequence: 2, recordedAt: "2026-03-04T07:05:00-06:00", digest: GIVEN_DIGEST, calculation: "1" },
  encounter: WHOSE,
  entries: [
    { digest: ADMITTED_DIGEST, recorded: ADMITTED },
    { digest: GIVEN_DIGEST, recorded: GIVEN },
  ],
};
