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
