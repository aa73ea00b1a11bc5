/**
 * Examples of the balance and of drug amounts for the API description: the same invented patient, whose litre of saline
 * holds 20 mmol of potassium chloride and who passed 120 mL of urine at 08:30. A test holds them to the schemas.
 */

import { COORDINATES, VOLUMES_EXAMPLE } from "./examples.js";

const { zone, from, to, intervals } = VOLUMES_EXAMPLE;
const at = (clock: string) => `2026-03-04T${clock}:00-06:00`;
const HEAD = { zone, from, to, ...COORDINATES, asOf: { ...COORDINATES.asOf, sequence: 6 }, intervals };
const SURE = ["exact", "exact", null];
const figures = (volumes: (number | null)[], total: number) => ({
  volumes,
  certainty: SURE,
  total,
  totalCertainty: "exact",
});
const NO_PART = { line: null, role: null, item: null, site: null, channel: null, counts: 1 };

/** One side with one row of one part. */
const side = (row: object, part: object, volumes: (number | null)[], total: number) => {
  const sure = figures(volumes, total);
  const parts = [{ ...NO_PART, ...part, ...sure, since: [null, null, null] }];
  return {
    rows: [{ ...row, ...sure, parts }],
    sums: volumes,
    certainty: SURE,
    total,
    totalCertainty: "exact",
    apart: [],
  };
};

const TOO_SHORT = {
  mLPerKgPerHour: null,
  why: "Cannot judge, because the patient has not been here that long.",
};

export const BALANCE_EXAMPLE = {
  ...HEAD,
  intake: side(
    { key: "iv-fluid", label: "Intravenous fluid", code: null },
    {
      line: "forearm",
      role: "primary",
      item: "Sodium chloride 0.9 %",
      label: "Left forearm 20 G, Sodium chloride 0.9 %, primary",
    },
    [75, 75, null],
    150,
  ),
  output: side(
    { key: "urine", label: "Urine", code: { system: "http://loinc.org", code: "9187-6" } },
    { label: "Measured amounts" },
    [0, 120, null],
    120,
  ),
  net: [75, -45, null],
  netCertainty: SURE,
  netTotal: 30,
  netTotalCertainty: "exact",
  cumulativeFrom: null,
  broughtForward: 0,
  broughtForwardCertainty: "exact",
  cumulative: [75, 30, null],
  cumulativeCertainty: SURE,
  unrounded: { broughtForward: 0, cumulative: [75, 30, null] },
  beside: [],
  unmeasured: [],
  unmeasuredBefore: 0,
  lost: [],
  irrigation: [],
  urine: [
    { hours: 1, start: at("08:00"), end: at("09:00"), volume: 120, mLPerKgPerHour: 1.66 },
    { hours: 6, start: at("03:00"), end: at("09:00"), volume: 120, ...TOO_SHORT },
    { hours: 12, start: "2026-03-03T21:00:00-06:00", end: at("09:00"), volume: 120, ...TOO_SHORT },
    { hours: 24, start: "2026-03-03T09:00:00-06:00", end: at("09:00"), volume: 120, ...TOO_SHORT },
  ],
  shareOfAdmissionWeight: {
    percent: 0.04,
    certainty: "exact",
    at: at("06:40"),
    weight: { value: 72.4, unit: "kg" },
  },
  weightChange: null,
  conventions: [
    {
      start: at("07:00"),
      end: at("10:00"),
      household: { cup: 240, ounce: 30, pint: 480, quart: 960, tablespoon: 15, teaspoon: 5 },
      iceFraction: 0.5,
      softFoods: { broth: 1, gelatin: 1, "ice cream": 1, soup: 1 },
      boundary: "ends",
      precision: 0.1,
      counts: { bloodProducts: true, flushes: true, returned: false },
      gramsPerMillilitre: 1,
    },
  ],
};

export const DRUG_AMOUNTS_EXAMPLE = {
  ...HEAD,
  rows: [
    {
      name: "Potassium chloride",
      unit: "mmol",
      amounts: [1.5, 1.5, null],
      exact: ["3/2", "3/2", null],
      certainty: SURE,
      total: 3,
      totalExact: "3",
      totalCertainty: "exact",
      volumes: [75, 75, null],
      volume: 150,
    },
  ],
};
