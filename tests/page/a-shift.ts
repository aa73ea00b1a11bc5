/** Answers of the API for one invented shift of one line, put together by hand: what sheets of paper are made of. */

import type { components } from "../../openapi/client.js";
import type { Source } from "../../src/page/print/source.js";
import { en } from "../../src/page/words/en.js";
import { enPrint } from "../../src/page/words/en-print.js";
import { numbersIn } from "../../src/page/words/numbers.js";
import { clock, dateOf, dayName } from "../../src/page/words/wall.js";

type Schemas = components["schemas"];
export type Shift = Schemas["ShiftFigures"];

export const at = (time: string) => `2026-03-04T${time}:00-06:00`;

export const DIGEST = "5e".repeat(32);

const HOURS = Array.from({ length: 12 }, (_, index) => {
  const hour = (add: number) => String(7 + index + add).padStart(2, "0");
  const [start, end] = [`${hour(0)}:00`, `${hour(1)}:00`];
  return { start: at(start), end: at(end), label: `${start}–${end}`, complete: true };
});

const all = <T>(value: T): T[] => HOURS.map(() => value);

const EVERY_HOUR = { volumes: all(50), certainty: all("exact" as const), total: 600 };

/** 50 mL/h for twelve hours in, 300 mL of urine out in the last hour, 1,000 mL brought forward. */
export function aShift(changed: Partial<Shift> = {}): Shift {
  const period = { start: at("07:00"), end: at("19:00") };
  const out = HOURS.map((_, index) => (index === 11 ? 300 : 0));
  const side = { sums: all(50), certainty: all("exact" as const), total: 600, apart: [] };
  const row = { code: null, totalCertainty: "exact" } as const;
  return {
    shift: "2026-03-04/day",
    date: "2026-03-04",
    name: "day",
    label: "Day",
    ...period,
    zone: "America/Chicago",
    asOf: { sequence: 42, recordedAt: at("18:50"), digest: DIGEST, calculation: "1" },
    until: at("19:00"),
    state: "preliminary",
    volumes: {
      intervals: HOURS,
      rows: [
        {
          key: "forearm",
          label: "Left forearm",
          volumes: all(50),
          computed: all(50),
          basis: all("computed"),
          since: all(null),
          unknown: all(0),
          total: 600,
        },
      ],
      sums: all(50),
      total: 600,
    },
    totals: { at: at("19:00"), channels: [aChannel()], chambers: [] },
    balance: {
      intervals: HOURS,
      intake: {
        ...side,
        rows: [{ key: "iv-fluid", label: "Intravenous fluid", parts: [], ...row, ...EVERY_HOUR }],
        totalCertainty: "exact",
      },
      output: {
        ...side,
        rows: [{ key: "urine", label: "Urine", parts: [], ...row, ...EVERY_HOUR, volumes: out, total: 300 }],
        sums: out,
        total: 300,
        totalCertainty: "exact",
      },
      net: HOURS.map((_, index) => 50 - (out[index] ?? 0)),
      netCertainty: all("exact"),
      netTotal: 300,
      netTotalCertainty: "exact",
      cumulativeFrom: null,
      broughtForward: 1000,
      broughtForwardCertainty: "exact",
      cumulative: HOURS.map((_, index) => 1050 + 50 * index - (out[index] ?? 0)),
      cumulativeCertainty: all("exact"),
      unrounded: { broughtForward: 1000, cumulative: all(1000) },
      beside: [],
      unmeasured: [],
      unmeasuredBefore: 0,
      lost: [],
      irrigation: [],
      urine: [],
      shareOfAdmissionWeight: { percent: null, weight: null, at: null, why: "no weight" },
      weightChange: null,
      conventions: [CONVENTIONS],
    },
    findings: [],
    openQuestions: [],
    unknown: [],
    unmeasured: [],
    signatures: [],
    toSign: null,
    ...changed,
  };
}

export const CONVENTIONS: Schemas["BalanceConventions"] = {
  start: at("07:00"),
  end: at("19:00"),
  household: { cup: 240 },
  iceFraction: 0.5,
  softFoods: { soup: 1, porridge: 0.6 },
  boundary: "ends",
  precision: 0.1,
  counts: { bloodProducts: true, flushes: false, returned: false },
  gramsPerMillilitre: 1,
};

/** A pump at 50 mL/h of which 350 of 650 mL are written down. */
export function aChannel(changed: Partial<Schemas["ChannelTotals"]> = {}): Schemas["ChannelTotals"] {
  const flow = { bag: "saline-1", role: "primary", rate: 50, left: 350, endsAt: null } as const;
  const total = { total: "primary", expected: 650, lastReading: 350, atRisk: 300, flows: [] } as const;
  return {
    channel: "pump-1",
    line: "forearm",
    lineLabel: "Left forearm",
    connected: true,
    delivering: "primary",
    hold: "none",
    flow: { ...flow, emptyAt: "2026-03-05T02:00:00-06:00" },
    totals: [{ ...total, flows: [], since: at("13:00"), atLeast: false }],
    segments: null,
    ...changed,
  };
}

const numbers = numbersIn("en-US");

const SPEECH: Source["speech"] = {
  language: "en",
  words: en,
  ...numbers,
  volume: (value) => `${numbers.figure(value)}\u00a0mL`,
  inTenths: (value) => `${numbers.tenths(value)}\u00a0mL`,
  rate: (value) => `${numbers.figure(value)}\u00a0mL/h`,
  day: (text) => dayName(dateOf(text), "en-US"),
  clockSeenFrom: (instant) => clock(instant),
};

/** What a sheet of the shift is made of, in English. */
export function sourceOf(shift: Shift, changed: Partial<Source> = {}): Source {
  const { asOf, until, zone } = shift;
  const period = { zone, from: shift.start, to: shift.end, asOf, until };
  const hung = { kind: "bag-hung", at: at("07:00"), bag: "saline-1", volume: 1000 } as const;
  const by = { id: "n", name: "Nell Daytime", role: "nurse" } as const;
  const recorded = {
    sequence: 1,
    at: at("07:01"),
    by,
    source: "person",
    digest: "",
    state: "current",
  } as const;
  return {
    stay: {
      id: "stay-1",
      unit: "east",
      bed: "12",
      patient: { identifier: "P-20417", name: "Imaginary Person" },
      admittedAt: at("06:00"),
      ledger: { sequence: 42, digest: DIGEST },
      shifts: [],
    },
    sheet: {
      shift,
      flows: { ...period, flows: [], unattributed: [], unknown: [] },
      channels: { ...period, boundary: "ends", intervals: HOURS, rows: [], sums: [], total: 0 },
      bags: null,
      entries: [],
      hangings: [{ id: "hung", ...hung, fluid: { name: "Sodium chloride 0.9 %" }, recorded }],
    },
    unit: null,
    by: "Nell Daytime",
    speech: SPEECH,
    words: enPrint,
    ...changed,
  };
}
