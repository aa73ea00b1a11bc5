/** Names for the shapes of the API's answers, all of them the generated description's own. */

import type { components } from "../../../openapi/client.js";

type Schemas = components["schemas"];

export type Balance = Schemas["ShiftBalance"];
export type BalanceRow = Schemas["BalanceRow"];
export type Basis = Schemas["Basis"];
export type Category = Schemas["IntakeCategory"] | Schemas["OutputCategory"];
export type Certainty = Schemas["Certainty"];
export type ChannelTotals = Schemas["ChannelTotals"];
export type Encounter = Schemas["ListedEncounter"];
export type Entry = Schemas["RecordedEntry"];
export type Explanation = Schemas["Explanation"];
export type Finding = Schemas["Finding"];
export type Flow = Schemas["Flow"];
export type FlowRole = Schemas["FlowRole"];
export type Flows = Schemas["Flows"];
export type Interval = Schemas["Interval"];
export type Me = Schemas["Me"];
export type RunningTotal = Schemas["RunningTotal"];
export type ShiftFigures = Schemas["ShiftFigures"];
export type Stay = Schemas["EncounterWithShifts"];
export type StayShift = Schemas["StayShift"];
export type TotalName = Schemas["TotalName"];
export type Unit = Schemas["Unit"];
export type UnitEvent = Schemas["UnitEvent"];
export type UnknownSpan = Schemas["UnknownSpan"];
export type Volumes = Schemas["Volumes"];
export type VolumeRow = Schemas["VolumeRow"];
export type Audit = Schemas["UnitAudit"];
export type AuditedEncounter = Schemas["EncounterAudited"];
export type Changes = Schemas["Changes"];
export type ChangedFigure = Schemas["ChangedFigure"];
export type Chart = Schemas["Chart"];
export type ChartDifference = Schemas["ChartDifference"];
export type ChartExplanation = Schemas["ChartExplanation"];
export type ChartFigure = Schemas["ChartFigure"];
export type ChartRow = Schemas["ChartRow"];
export type EntryHistory = Schemas["EntryWithAmendments"];
export type Measure = Schemas["MeasureOverUnit"];
export type MeasureKey = Schemas["MeasureKey"];
export type Reconciliation = Schemas["Reconciliation"];
