/** The schemas of answers take what the contract shows, and describe themselves without a clash of names. */

import { describe, expect, it } from "vitest";
import { z } from "zod";
import {
  DryRun,
  EntriesRecorded,
  EntriesTaken,
  EntryList,
  EntryWithAmendments,
} from "../../src/wire/answers/entries.js";
import { FindingList } from "../../src/wire/answers/findings.js";
import * as problems from "../../src/wire/answers/problems.js";
import { Totals } from "../../src/wire/answers/totals.js";
import { Volumes } from "../../src/wire/answers/volumes.js";
import { EncounterAnswer } from "../../src/wire/encounters.js";
import { parse } from "../../src/wire/parse.js";
import { UnitAnswer } from "../../src/wire/units.js";

const AT = "2026-03-04T07:00:00-06:00";
const NINE = "2026-03-04T09:00:00-06:00";
const digest = "0".repeat(64);
const asOf = { sequence: 4, recordedAt: AT, digest, calculation: "1" };
const by = { id: "n-1", name: "Nurse One", role: "nurse" };
const recorded = { sequence: 4, at: AT, by, source: "person", digest, state: "current" };
const entry = { id: "start-1", kind: "flow-started", at: AT, channel: "pump-1", rate: 75, recorded };

const finding = {
  id: "f-1",
  code: "totals-at-risk",
  severity: "question",
  state: "open",
  concerns: { channel: "pump-1", entries: ["start-1"] },
  sentence: "pump-1 has delivered 150 mL that nobody has written down.",
  settledBy: [
    {
      text: "Read the total",
      entry: { kind: "total-read", at: NINE, channel: "pump-1", total: "primary", volume: 150 },
    },
  ],
};

const volumes = {
  zone: "America/Chicago",
  from: AT,
  to: NINE,
  asOf,
  until: "2026-03-04T08:00:00-06:00",
  boundary: "ends",
  intervals: [
    { start: AT, end: "2026-03-04T08:00:00-06:00", label: "07", complete: true },
    { start: "2026-03-04T08:00:00-06:00", end: NINE, label: "08", complete: false },
  ],
  rows: [
    {
      key: null,
      label: "No bag",
      volumes: [75, null],
      computed: [75, null],
      basis: ["computed", null],
      since: [null, null],
      unknown: [0, 0],
      total: 75,
    },
  ],
  sums: [75, null],
  total: 75,
};

const total = { total: "primary", expected: 300, lastReading: 162.5, atRisk: 137.5, since: AT };
const channel = {
  channel: "pump-1",
  line: "forearm",
  lineLabel: "Left forearm 20 G",
  connected: true,
  delivering: "primary",
  hold: "none",
  flow: { bag: "saline-1", role: "primary", rate: 75, left: 863, emptyAt: NINE, endsAt: null },
  totals: [
    {
      ...total,
      atLeast: false,
      flows: [{ start: AT, end: NINE, bag: "saline-1", rate: null, volume: 137.5 }],
    },
  ],
  segments: null,
};

const question = {
  type: "/problems/totals-at-risk",
  status: 409,
  title: "Running totals would be lost",
  detail: "pump-1 would forget 137.5 mL of the primary that nobody has written down since 09:10.",
  atRisk: [{ entry: "#/entries/0", at: AT, channel: "pump-1", ...total, answers: [] }],
};

describe("an answer as the contract shows it", () => {
  it.each<[string, Parameters<typeof parse>[0], object]>([
    [
      "recorded entries",
      EntriesRecorded,
      { ledger: { sequence: 4, digest }, entries: [entry], findings: [finding] },
    ],
    [
      "a list of entries",
      EntryList,
      { asOf, until: NINE, entries: [entry], next: "/v1/encounters/stay-1/entries?after=4" },
    ],
    ["an entry and its amendments", EntryWithAmendments, { ...entry, asOf, amendments: [] }],
    [
      "a dry run",
      DryRun,
      {
        ledger: { sequence: 0, digest: "" },
        entries: [entry],
        findings: [],
        effects: [
          { row: { line: "forearm", label: "Left forearm" }, start: AT, end: NINE, before: null, after: 150 },
        ],
        totals: [channel],
      },
    ],
    ["findings", FindingList, { asOf, until: NINE, findings: [finding] }],
    ["volumes", Volumes, volumes],
    ["running totals", Totals, { at: NINE, asOf, until: NINE, channels: [channel], chambers: [] }],
    ["a question", problems.TotalsAtRisk, question],
    ["a problem of any type", problems.Problem, question],
  ])("%s", (_, schema, answer) => {
    expect(parse(schema, answer).faults).toBeUndefined();
  });

  it.each<[string, Parameters<typeof parse>[0], object, string]>([
    ["volumes with a basis of their own", Volumes, { ...volumes, boundary: "middle" }, "#/boundary"],
    ["a question of another type", problems.ReadingDisagrees, { ...question, disagreements: [] }, "#/type"],
    ["an entry in a state of its own", EntryList, { entries: [{ ...entry, id: 5 }] }, "#/entries/0/id"],
  ])("but not %s", (_, schema, answer, pointer) => {
    expect(parse(schema, answer).faults?.map((fault) => fault.pointer)).toContain(pointer);
  });
});

it("every schema of an answer has a name of its own and a sentence", () => {
  const answers = z.strictObject({
    DryRun,
    EntriesRecorded,
    EntriesTaken,
    EntryList,
    EntryWithAmendments,
    FindingList,
    Volumes,
    Totals,
    UnitAnswer,
    EncounterAnswer,
    ...problems,
  });
  const { $defs = {} } = z.toJSONSchema(answers, { target: "draft-2020-12", io: "output" });
  const described = Object.values($defs).filter(({ description }) => typeof description === "string");
  expect(described).toHaveLength(Object.keys($defs).length);
  expect(Object.keys($defs)).toEqual(
    expect.arrayContaining(["Volumes", "Unit", "Encounter", "TotalsAtRisk"]),
  );
});
