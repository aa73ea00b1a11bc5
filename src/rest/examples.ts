/**
 * Examples of answers for the API description: an invented patient with a litre of saline at 75 mL/h since
 * 07:00, asked about at 09:00. A test holds them to the schemas.
 */

const at = (clock: string) => `2026-03-04T${clock}:00-06:00`;

const DIGEST = "2c26b46b68ffc68ff99b453c1d30413413422d706483bfa0f98a5e886266e7ae";
export const COORDINATES = {
  asOf: { sequence: 5, recordedAt: at("07:04"), digest: DIGEST, calculation: "1" },
  until: at("09:00"),
};
const LEDGER = { sequence: 5, digest: DIGEST };
const NURSE = { id: "nurse-17", name: "Imaginary Nurse", role: "nurse" };

const STAY = {
  id: "stay-1",
  unit: "east-4",
  bed: "12",
  patient: { identifier: "P-20417", name: "Imaginary Person" },
  admittedAt: at("06:40"),
  admissionWeight: { value: 72.4, unit: "kg" },
  ledger: LEDGER,
};

export const ENCOUNTER_EXAMPLE = {
  ...STAY,
  shifts: [{ date: "2026-03-04", name: "day", label: "Day", start: at("07:00"), end: at("19:00") }],
};

const STARTED = {
  id: "start-1",
  kind: "flow-started",
  at: at("07:00"),
  channel: "pump-1",
  rate: 75,
  recorded: {
    sequence: 5,
    at: at("07:04"),
    by: NURSE,
    source: "person",
    digest: DIGEST,
    state: "current",
  },
};

export const RECORDED_EXAMPLE = { ledger: LEDGER, entries: [STARTED], findings: [] };

export const ENTRIES_EXAMPLE = { ...COORDINATES, entries: [STARTED] };

export const VOLUMES_EXAMPLE = {
  zone: "America/Chicago",
  from: at("07:00"),
  to: at("10:00"),
  ...COORDINATES,
  boundary: "ends",
  intervals: [
    { start: at("07:00"), end: at("08:00"), label: "07:00", complete: true },
    { start: at("08:00"), end: at("09:00"), label: "08:00", complete: true },
    { start: at("09:00"), end: at("10:00"), label: "09:00", complete: false },
  ],
  rows: [
    {
      key: "forearm",
      label: "Left forearm 20 G",
      volumes: [75, 75, null],
      computed: [75, 75, null],
      basis: ["computed", "computed", null],
      since: [null, null, null],
      unknown: [0, 0, 0],
      total: 150,
    },
  ],
  sums: [75, 75, null],
  total: 150,
};

const WHERE = { channel: "pump-1", line: "forearm" };

export const FLOWS_EXAMPLE = {
  zone: "America/Chicago",
  from: at("07:00"),
  to: at("10:00"),
  ...COORDINATES,
  flows: [
    {
      ...WHERE,
      bag: "saline-1",
      fluid: { name: "Sodium chloride 0.9 %", category: "iv-fluid" },
      role: "primary",
      start: at("07:00"),
      end: at("09:00"),
      rate: 75,
      volume: 150,
      delivered: 150,
      basis: "computed",
    },
  ],
  unattributed: [],
  unknown: [],
};

export const TOTALS_EXAMPLE = {
  at: at("09:00"),
  ...COORDINATES,
  channels: [
    {
      ...WHERE,
      lineLabel: "Left forearm 20 G",
      connected: true,
      delivering: "primary",
      hold: "none",
      // 850 mL at 75 mL/h take 11 h 20 min; the overfill of 100 mL lasts another 1 h 20 min.
      flow: {
        bag: "saline-1",
        role: "primary",
        rate: 75,
        left: 850,
        emptyAt: at("20:20"),
        endsAt: at("21:40"),
      },
      totals: [
        {
          total: "primary",
          expected: 150,
          lastReading: null,
          atRisk: 150,
          atLeast: false,
          since: at("07:00"),
          flows: [{ start: at("07:00"), end: at("09:00"), bag: "saline-1", rate: 75, volume: 150 }],
        },
      ],
    },
  ],
};

export const ME_EXAMPLE = { ...NURSE, units: ["east-4"] };

export const SIGNED_IN_EXAMPLE = {
  ...ME_EXAMPLE,
  session: { endsAt: "2026-03-05T01:00:00.000Z", idleSeconds: 600 },
};

export const ACCOUNT_EXAMPLE = {
  id: "nurse-17",
  username: "i.nurse",
  name: "Imaginary Nurse",
  role: "nurse",
  units: ["east-4", "east-5"],
  active: true,
};

export const ACCESSES_EXAMPLE = {
  accesses: [
    {
      at: "2026-03-04T15:10:02.120Z",
      by: { id: "nurse-31", name: "Imaginary Colleague", role: "nurse" },
      route: "GET /v1/encounters/{encounter}/totals",
      status: 200,
      emergency: { id: "emergency-1", reason: "Called to a cardiac arrest in the next unit." },
    },
  ],
};

const PAPER = {
  id: "paper-day",
  source: "Paper sheet",
  start: at("07:00"),
  end: at("09:00"),
  latest: true,
  recorded: {
    sequence: 6,
    at: at("09:00"),
    by: { ...NURSE, role: "charge-nurse" },
    source: "person",
    digest: DIGEST,
    state: "current",
  },
};
const SEVEN = { start: at("07:00"), end: at("08:00") };
const EIGHT = { start: at("08:00"), end: at("09:00") };
const FIGURES = [
  { row: { category: "iv-fluid" }, ...SEVEN, volume: 75 },
  { row: { category: "iv-fluid" }, ...EIGHT, volume: 57 },
];
const KEPT_BY_NOW = { ...COORDINATES, asOf: { ...COORDINATES.asOf, sequence: 6, recordedAt: at("09:00") } };

export const CHART_KEPT_EXAMPLE = { ledger: { sequence: 6, digest: DIGEST }, ...PAPER, figures: FIGURES };

export const CHART_EXAMPLE = { ...KEPT_BY_NOW, ...PAPER, figures: FIGURES };

export const CHARTS_EXAMPLE = { ...KEPT_BY_NOW, charts: [{ ...PAPER, count: FIGURES.length }] };

/** 57 for 75: the digits are swapped. */
export const RECONCILIATION_EXAMPLE = {
  zone: "America/Chicago",
  from: at("07:00"),
  to: at("09:00"),
  ...KEPT_BY_NOW,
  chart: { id: "paper-day", source: "Paper sheet" },
  tolerance: { note: 10, attention: 50 },
  matches: [
    { row: { category: "iv-fluid" }, ...SEVEN, charted: 75, ledger: 75, certainty: "exact", takenFor: null },
  ],
  differences: [
    {
      row: { category: "iv-fluid" },
      ...EIGHT,
      charted: 57,
      ledger: 75,
      certainty: "exact",
      takenFor: null,
      difference: -18,
      severity: "note",
      follows: [],
      explanations: [
        {
          kind: "transposed-digits",
          entries: ["start-1"],
          accountsFor: -18,
          sentence:
            "iv fluid, 08:00 to 09:00: 75 mL seem to be charted as 57 mL, with two digits swapped: correct the figure.",
          remaining: 0,
          together: [],
          place: 1,
          tied: false,
        },
      ],
      sentence: "iv fluid, 08:00 to 09:00: 18 mL less is charted (57 mL) than the ledger has (75 mL).",
    },
  ],
  notInUse: [],
  notCharted: [],
  notBegun: [],
  conventions: [],
};

export const FINDINGS_EXAMPLE = {
  ...COORDINATES,
  findings: [
    {
      id: "totals-lost~pump-1~change-1",
      code: "totals-lost",
      severity: "attention",
      state: "open",
      concerns: { start: at("07:00"), end: at("08:40"), channel: "pump-1", entries: ["change-1"] },
      sentence:
        "The primary total of pump-1 was cleared at 08:40 with 125 mL not written down since 07:00: that volume is computed only.",
      settledBy: [
        {
          text: "A late reading of the primary total from before the clear.",
          entry: {
            kind: "total-read",
            at: at("08:40"),
            channel: "pump-1",
            total: "primary",
            position: "before",
          },
          fill: ["/volume"],
        },
      ],
    },
  ],
};
