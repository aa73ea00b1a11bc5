/**
 * The tables as the query builder sees them: one interface per table of the newest migration.
 * Column types are the contract's own (`Instant`, `Chain`), so a query cannot compare a time with
 * a sequence.
 */

import type { Instant } from "../time/instant.js";
import type { Chain } from "./store.js";

export interface EntryTable {
  chain: Chain;
  sequence: number;
  id: string;
  kind: string;
  at: Instant | null;
  touches: Instant;
  root: number | null;
  declares: string | null;
  channel: string | null;
  recorded_at: Instant;
  text: string;
  digest: string;
}

export interface CheckpointTable {
  chain: Chain;
  at: Instant;
  valid_from: number;
  valid_to: number | null;
  text: string;
}

export interface UnitTable {
  id: string;
}

export interface StayTable {
  encounter: string;
  unit: string;
  bed: string | null;
  patient_identifier: string;
  patient_name: string | null;
  admitted_at: Instant;
  discharged_at: Instant | null;
}

export interface KeptAnswerTable {
  scope: string;
  key: string;
  fingerprint: string;
  status: number;
  body: string;
  headers: string;
  recorded_at: Instant;
}

export interface TokenTable {
  id: string;
  hash: string;
  role: string;
  name: string;
  unit: string | null;
  created_at: Instant;
}

export interface Tables {
  entry: EntryTable;
  checkpoint: CheckpointTable;
  unit: UnitTable;
  stay: StayTable;
  kept_answer: KeptAnswerTable;
  token: TokenTable;
}
