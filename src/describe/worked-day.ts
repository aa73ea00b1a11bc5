/**
 * The requests whose answers stand as examples in the description of the API: one invented patient's
 * morning, from the opening of the unit to the export. Of each operation and status the first answer is shown.
 */

import type { Role } from "../access/roles.js";

export interface Asked {
  /** When it is sent, on 4 March 2026 by the unit's clocks; absent, when the one before it was. */
  readonly clock?: string;
  /** Who sends it; null for nobody. */
  readonly as: Role | null;
  readonly method: "GET" | "POST" | "PATCH";
  readonly url: string;
  readonly headers?: Readonly<Record<string, string>>;
  /** A body, or one made of the answer before. */
  readonly body?: object | ((before: never) => object);
  /** What its body is an example of; absent, it is none. */
  readonly shows?: string;
}

export const at = (clock: string) => `2026-03-04T${clock}:00-06:00`;

const STAY = "/v1/encounters/stay-1";
const SHIFT = "shift=2026-03-04/day";

const record = (clock: string, ...entries: readonly object[]): Asked => ({
  clock,
  as: "nurse",
  method: "POST",
  url: `${STAY}/entries`,
  body: { entries },
});
const showing = (shows: string, asked: Asked): Asked => ({ ...asked, shows });
const read = (url: string, as: Role | null = "nurse"): Asked => ({ as, method: "GET", url });
const readStay = (path: string, as: Role = "nurse"): Asked => read(STAY + path, as);
const entry = (id: string, kind: string, clock: string, more: object) => ({
  id,
  kind,
  at: at(clock),
  ...more,
});
const onPump = (id: string, kind: string, clock: string, more: object) =>
  entry(id, kind, clock, { channel: "pump-1", ...more });

const UNIT = {
  id: "east-4",
  name: "East 4",
  zone: "America/Chicago",
  shifts: [
    { name: "day", label: "Day", starts: "07:00" },
    { name: "night", label: "Night", starts: "19:00" },
  ],
};

const ADMITTED = {
  id: "stay-1",
  unit: "east-4",
  bed: "12",
  patient: { identifier: "P-20417", name: "Imaginary Person" },
  admittedAt: at("06:40"),
  admissionWeight: { value: 72.4, unit: "kg" },
};

const HEPARIN = {
  bag: "heparin-1",
  role: "primary",
  volume: 250,
  fluid: { name: "Heparin in sodium chloride 0.9 %", category: "iv-medication" },
  additives: [{ name: "Heparin", amount: 25_000, unit: "units" }],
};

const STARTING = [
  entry("line-1", "line-placed", "07:00", {
    line: "forearm",
    label: "Left forearm 20 G",
    route: "intravenous",
  }),
  onPump("pump", "channel-connected", "07:00", {
    line: "forearm",
    type: "pump",
    totals: "separate",
    rateStep: 0.1,
  }),
  onPump("bag-1", "bag-hung", "07:00", HEPARIN),
  onPump("start-1", "flow-started", "07:00", { rate: 12.5 }),
];

const CHART = [
  { row: { category: "oral" }, start: at("07:00"), end: at("09:00"), volume: 150 },
  { row: { category: "urine" }, start: at("07:00"), end: at("09:00"), volume: 220 },
];

const changed = (clock: string, shows: string, body: object): Asked => ({
  clock,
  as: "nurse",
  method: "PATCH",
  url: STAY,
  body,
  shows,
});

interface Found {
  readonly findings: readonly { readonly id: string }[];
}
interface ToSign {
  readonly toSign: { readonly digest: string; readonly to: string };
}

export const WORKED_DAY: readonly Asked[] = [
  {
    clock: "06:30",
    as: "administrator",
    method: "POST",
    url: "/v1/units",
    body: UNIT,
    shows: "A ward with two shifts",
  },
  {
    as: "administrator",
    method: "PATCH",
    url: "/v1/units/east-4",
    body: { effectiveFrom: at("19:00"), settings: { precision: 1 } },
    shows: "Volumes are shown to the millilitre from an instant on",
  },
  read("/v1/units"),
  read("/v1/units/east-4"),
  {
    clock: "06:45",
    as: "nurse",
    method: "POST",
    url: "/v1/encounters",
    body: ADMITTED,
    shows: "A patient is admitted",
  },
  { as: "nurse", method: "PATCH", url: STAY, body: { bed: "14" }, shows: "Another bed of the same unit" },
  showing("An infusion is started: line, channel, bag and flow", record("07:04", ...STARTING)),
  record("07:05", ...STARTING),
  showing(
    "Drink, urine and a change of the rate",
    record(
      "08:10",
      entry("tea", "intake-measured", "08:00", { category: "oral", volume: 150, item: "Tea" }),
      entry("urine-1", "output-measured", "08:05", { category: "urine", volume: 220 }),
      onPump("rate-1", "rate-changed", "08:00", { rate: 15 }),
    ),
  ),
  showing(
    "An entry is amended",
    record("08:30", {
      id: "amend-1",
      kind: "entry-amended",
      entry: "rate-1",
      reason: "It was changed at the half hour.",
      replacement: { kind: "rate-changed", at: at("07:30"), channel: "pump-1", rate: 15 },
    }),
  ),
  showing(
    "A running total is read off the pump",
    record("09:00", onPump("read-1", "total-read", "08:58", { total: "primary", volume: 28 })),
  ),
  read("/v1/encounters"),
  readStay(""),
  readStay("/entries?kind=flow-started&kind=total-read"),
  readStay("/entries/rate-1"),
  readStay(`/volumes?${SHIFT}&by=whole`),
  readStay(`/balance?${SHIFT}&by=whole`),
  readStay(`/drug-amounts?${SHIFT}&by=whole`),
  readStay(`/flows?${SHIFT}`),
  readStay("/totals"),
  readStay(`/volumes/explanation?${SHIFT}&row=forearm`),
  readStay(`/reconciliation?${SHIFT}`),
  {
    as: "nurse",
    method: "POST",
    url: `${STAY}/entries?dryRun=true`,
    body: { entries: [onPump("pause-1", "flow-paused", "09:00", { reason: "by-clinician" })] },
    shows: "A pause, as it may be tried with dryRun",
  },
  record("12:30", onPump("rate-2", "rate-changed", "09:10", { rate: 10 })),
  readStay("/findings"),
  {
    as: "charge-nurse",
    method: "POST",
    url: `${STAY}/findings/{finding}/acknowledgement`,
    body: { reason: "Charted after a transport." },
    shows: "Why a finding may stand",
  },
  {
    as: "integration",
    method: "POST",
    url: `${STAY}/charts`,
    body: { id: "paper-day", figures: CHART },
    shows: "Two figures of a paper chart",
  },
  { as: "integration", method: "POST", url: `${STAY}/charts`, body: { id: "paper-day", figures: CHART } },
  readStay("/charts"),
  readStay("/charts/paper-day"),
  {
    as: "charge-nurse",
    method: "POST",
    url: `${STAY}/reconciliation`,
    body: { figures: [{ ...CHART[0]!, volume: 15 }, CHART[1]!] },
    shows: "Two figures of a paper chart, the first with a slip",
  },
  { ...readStay("/shifts/2026-03-04/day"), clock: "13:00" },
  {
    as: "nurse",
    method: "POST",
    url: `${STAY}/shifts/2026-03-04/day/signature`,
    body: ({ toSign: { digest, to } }: ToSign) => ({ digest, to, remark: "Handed over at the bedside." }),
    shows: "The figures that were seen are signed",
  },
  record("13:20", entry("tea-2", "intake-measured", "12:00", { category: "oral", volume: 200, item: "Tea" })),
  readStay("/changes?since=10"),
  readStay("/export", "charge-nurse"),
  {
    as: "nurse",
    method: "POST",
    url: `${STAY}/emergency-access`,
    body: { reason: "Cardiac arrest." },
    shows: "Why it cannot wait",
  },
  readStay("/accesses?limit=3", "charge-nurse"),
  read(`/v1/units/east-4/audit?${SHIFT}`, "charge-nurse"),
  { ...read(`/v1/units/east-4/audit?${SHIFT}`, "charge-nurse"), headers: { accept: "text/csv" } },
  read("/v1/units/east-4/accesses?limit=3", "charge-nurse"),
  { ...read("/v1/units/east-4/stream"), headers: { "last-event-id": "0" } },
  {
    as: "administrator",
    method: "POST",
    url: "/v1/accounts",
    body: {
      username: "i.nurse",
      name: "Imaginary Nurse",
      role: "nurse",
      units: ["east-4"],
      password: "an invented sentence",
    },
    shows: "A nurse of one unit",
  },
  read("/v1/accounts", "administrator"),
  {
    as: "administrator",
    method: "PATCH",
    url: "/v1/accounts/{account}",
    body: { name: "Imaginary Senior Nurse" },
    shows: "The person is called otherwise",
  },
  {
    as: null,
    method: "POST",
    url: "/v1/session",
    body: { username: "i.nurse", password: "an invented sentence" },
    shows: "Username and password",
  },
  read("/v1/account-accesses", "administrator"),
  read("/v1/session", null),
  read("/v1/me"),
  read("/health/live", null),
  read("/health/ready", null),
  { as: "administrator", method: "POST", url: "/v1/units", body: { ...UNIT, id: "west-2", name: "West 2" } },
  {
    as: "administrator",
    method: "PATCH",
    url: "/v1/units/west-2",
    body: { name: "West 2, step-down" },
    shows: "The unit is called something else",
  },
  changed("15:40", "The patient moves to another unit", {
    move: { unit: "west-2", bed: "3", at: at("15:30") },
  }),
  changed("18:05", "The patient is discharged", { discharge: { at: at("18:00") } }),
  changed("18:20", "The discharge is taken back", {
    dischargedAt: null,
    reason: "The transfer was called off.",
  }),
];

/** Where an address names what an earlier answer made, and how that answer says it. */
export const NAMED: Readonly<Record<string, (before: never) => string>> = {
  "{finding}": ({ findings }: Found) => findings[0]!.id,
  "{account}": ({ accounts }: { accounts: readonly { id: string }[] }) => accounts[0]!.id,
};
