/**
 * The tables as the query builder sees them: one interface per table of the newest migration.
 * Column types are the contract's own (`Instant`, `Chain`), so a query cannot compare a time with
 * a sequence.
 */

import type { Instant } from "../time/instant.js";
import type { Chain } from "./store.js";

export interface ChainTable {
  number: number;
  name: Chain;
}

export interface EntryTable {
  /** 1, 2, 3, … over all chains, in order of recording. */
  place: number;
  /** The chain's number. */
  chain: number;
  sequence: number;
  id: string;
  kind: string;
  at: Instant | null;
  root: number | null;
  declares: string | null;
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
  patient_salt: string | null;
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
  /** A JSON list; null for every unit. */
  units: string | null;
  created_at: Instant;
  expires_at: Instant | null;
  revoked_at: Instant | null;
}

export interface AccountTable {
  id: string;
  username: string;
  name: string;
  role: string;
  units: string | null;
  password: string;
  active: 0 | 1;
  created_at: Instant;
}

export interface SessionTable {
  hash: string;
  account: string;
  created_at: Instant;
  used_at: Instant;
}

export interface EmergencyTable {
  id: string;
  encounter: string;
  caller: string;
  name: string;
  role: string;
  reason: string;
  granted_at: Instant;
  ends_at: Instant;
}

export interface AccessTable {
  /** 1, 2, 3, … in the order in which they were written down. */
  place: number;
  at: Instant;
  encounter: string | null;
  caller: string;
  name: string;
  role: string;
  route: string;
  status: number;
  emergency: string | null;
  account: string | null;
  address: string | null;
  /** JSON; null where nothing was changed. */
  change: string | null;
  /** JSON: a list, or null for every unit; the column is null of what is about no units. */
  units: string | null;
}

/** Where an account has signed in from, by a hash. */
export interface PlaceTable {
  hash: string;
  account: string;
  used_at: Instant;
}

/** When an encounter left a unit that it is not in now. */
export interface DepartureTable {
  unit: string;
  encounter: string;
  left_at: Instant;
}

export interface Tables {
  chain: ChainTable;
  entry: EntryTable;
  checkpoint: CheckpointTable;
  unit: UnitTable;
  stay: StayTable;
  kept_answer: KeptAnswerTable;
  token: TokenTable;
  account: AccountTable;
  session: SessionTable;
  emergency: EmergencyTable;
  access: AccessTable;
  place: PlaceTable;
  departure: DepartureTable;
}
