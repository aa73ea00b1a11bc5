/** Names for the shapes of the API's answers, all of them the generated description's own. */

import type { components } from "../../../openapi/client.js";

type Schemas = components["schemas"];

export type Balance = Schemas["ShiftBalance"];
export type BalanceRow = Schemas["BalanceRow"];
export type Basis = Schemas["Basis"];
export type Category = Schemas["IntakeCategory"] | Schemas["OutputCategory"];
export type Certainty = Schemas["Certainty"];
export type ChannelTotals = Schemas["ChannelTotals"];
export type Disagreement = Schemas["Disagreement"];
export type DryRun = Schemas["DryRun"];
export type Effect = Schemas["Effect"];
export type Encounter = Schemas["ListedEncounter"];
export type Entry = Schemas["RecordedEntry"];
export type Explanation = Schemas["Explanation"];
export type Finding = Schemas["Finding"];
export type Flow = Schemas["Flow"];
export type FlowRole = Schemas["FlowRole"];
export type Flows = Schemas["Flows"];
export type IntakeCategory = Schemas["IntakeCategory"];
export type Interval = Schemas["Interval"];
export type LikelyReason = Schemas["LikelyReason"];
export type Me = Schemas["Me"];
export type OutputCategory = Schemas["OutputCategory"];
export type Posted = Schemas["PostedEntry"];
export type Ready = Schemas["Ready"];
export type Recorded = Schemas["EntriesRecorded"];
export type RunningTotal = Schemas["RunningTotal"];
export type Settings = Schemas["Settings"];
export type ShiftFigures = Schemas["ShiftFigures"];
export type Signature = Schemas["Signature"];
export type SignedFigure = Schemas["SignedFigure"];
export type Stay = Schemas["EncounterWithShifts"];
export type StayShift = Schemas["StayShift"];
export type TotalAtRisk = Schemas["TotalAtRisk"];
export type TotalName = Schemas["TotalName"];
export type Unit = Schemas["Unit"];
export type UnitEvent = Schemas["UnitEvent"];
export type UnknownSpan = Schemas["UnknownSpan"];
export type Volumes = Schemas["Volumes"];
export type VolumeRow = Schemas["VolumeRow"];
