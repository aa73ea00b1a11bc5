/**
 * Encounters on the wire: one patient's stay. Whom it is about is told here and nowhere else; moves
 * and the discharge are facts with a time, and become entries of the ledger's own.
 */

import { z } from "zod";
import { LedgerHead } from "./answers/head.js";
import { refuseUnknownFields } from "./choice.js";
import { InstantText } from "./instant.js";
import { Weight } from "./quantity.js";
import { Key, text, words } from "./text.js";

const Bed = text(64, "The bed, such as `12` or `4-B`. At most 64 characters, not blank.");
const Unit = Key.describe("The unit's id.");

const Patient = z
  .strictObject({
    identifier: text(
      100,
      "The patient's identifier in the caller's own records. At most 100 characters, not blank.",
    ),
    name: text(200, "The patient's name, for the pages. At most 200 characters, not blank.").optional(),
  })
  .meta({
    id: "Patient",
    description: "Whom the stay is of.",
    examples: [{ identifier: "P-20417", name: "Imaginary Person" }],
  });

const AdmittedAt = InstantText.describe("When the stay begins.");
const AdmissionWeight = Weight.describe(
  "The weight on admission, for urine in mL/kg/h and the share of it retained.",
);

export const EncounterBody = z
  .strictObject({
    id: Key.optional().describe("Absent: the ledger makes one."),
    unit: Unit,
    bed: Bed.optional(),
    patient: Patient,
    admittedAt: AdmittedAt,
    admissionWeight: AdmissionWeight.optional(),
  })
  .meta({
    id: "EncounterBody",
    description: "A patient is admitted to a unit.",
    examples: [
      {
        id: "stay-1",
        unit: "east-4",
        bed: "12",
        patient: { identifier: "P-20417", name: "Imaginary Person" },
        admittedAt: "2026-03-04T06:40:00-06:00",
        admissionWeight: { value: 72.4, unit: "kg" },
      },
    ],
  });
export type EncounterBody = z.infer<typeof EncounterBody>;

const Move = z
  .strictObject({
    move: z
      .strictObject({
        unit: Unit,
        bed: Bed.optional(),
        at: InstantText.describe("When the patient arrived there."),
      })
      .describe("To which unit, and when."),
  })
  .check(refuseUnknownFields)
  .meta({
    id: "EncounterMove",
    description: "The patient moves to another unit, which charts from that instant.",
    examples: [{ move: { unit: "west-2", bed: "3", at: "2026-03-04T15:30:00-06:00" } }],
  });

const Discharge = z
  .strictObject({
    discharge: z
      .strictObject({ at: InstantText.describe("When the stay ends.") })
      .describe("When; what still runs then ends there, with a finding."),
  })
  .check(refuseUnknownFields)
  .meta({
    id: "EncounterDischarge",
    description: "The stay ends.",
    examples: [{ discharge: { at: "2026-03-06T10:00:00-06:00" } }],
  });

const DischargeUndone = z
  .strictObject({
    dischargedAt: z.null().describe("The stay has not ended after all."),
    reason: words("Why; it stands in the record.").optional(),
  })
  .check(refuseUnknownFields)
  .meta({
    id: "EncounterDischargeUndone",
    description: "The discharge is taken back: it is made void, and the stay goes on as if it had not ended.",
    examples: [{ dischargedAt: null, reason: "The transfer was called off." }],
  });

const OtherBed = z
  .strictObject({ bed: Bed })
  .check(refuseUnknownFields)
  .meta({ id: "EncounterBed", description: "Another bed of the same unit.", examples: [{ bed: "14" }] });

export const EncounterPatch = z
  .union([Move, Discharge, DischargeUndone, OtherBed], {
    inclusive: false,
    error: "must say exactly one of move, discharge, dischargedAt and bed.",
  })
  .meta({
    id: "EncounterPatch",
    description: "What changes of a stay: exactly one of move, discharge, dischargedAt and bed.",
  });
export type EncounterPatch = z.infer<typeof EncounterPatch>;

/** An encounter as a list of them and a change of one answer it. */
export const EncounterAnswer = z
  .strictObject({
    id: Key.describe("The encounter's id."),
    unit: Unit.describe("The unit the patient is in now, or was in last."),
    bed: Bed.optional(),
    patient: Patient,
    admittedAt: AdmittedAt,
    dischargedAt: InstantText.optional().describe("When the stay ended; absent while it lasts."),
    admissionWeight: AdmissionWeight.optional(),
    ledger: LedgerHead,
  })
  .meta({ id: "Encounter", description: "One patient's stay." });

const StayShift = z
  .strictObject({
    date: z.iso.date().describe("The date on which it starts."),
    name: Key.describe("Its name: `date/name` is what `shift=` of the volumes takes."),
    label: z.string().describe("What people call it."),
    start: InstantText,
    end: InstantText.describe("Its end, which is not part of it."),
  })
  .meta({ id: "StayShift", description: "A shift of a stay." });

/** An encounter in a list of some units' encounters. */
export const ListedEncounter = EncounterAnswer.extend({
  leftAt: InstantText.optional().describe(
    "When the patient left the units of the list, whose staff may finish charting their own time for 24 hours from then; absent while the patient is in one of them.",
  ),
}).meta({ id: "ListedEncounter", description: "One patient's stay, in a list." });

/** An encounter asked for by itself: the shifts to choose from stand in it. */
export const EncounterWithShifts = EncounterAnswer.extend({
  shifts: z
    .array(StayShift)
    .max(30)
    .describe("At most 30 shifts of the stay that have begun, the latest first."),
}).meta({ id: "EncounterWithShifts", description: "One patient's stay, and its shifts." });
