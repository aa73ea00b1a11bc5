/**
 * The ledger: everything that can be recorded and asked of encounters and units. It owns the clock, the
 * making of ids and the store; what it answers is ready to be serialised, and is made before the commit.
 */

import type { Conventions } from "../conventions/dated.js";
import type { Source } from "../infusion/entry.js";
import type { Grouping } from "../infusion/headings.js";
import { ask, type Store } from "../store/store.js";
import { type Instant, instant } from "../time/instant.js";
import type { ChartBody } from "../wire/charts.js";
import type { EncounterBody, EncounterPatch } from "../wire/encounters.js";
import type { UnitBody, UnitPatch } from "../wire/units.js";
import * as answers from "./answers.js";
import type { Posted } from "./append.js";
import { type BalanceQuery, balance } from "./balance.js";
import { totals } from "./bedside.js";
import { bundle } from "./bundle.js";
import { type ChangesQuery, changes } from "./changes.js";
import { stations } from "./charting.js";
import * as charts from "./charts.js";
import { type DrugAmountsQuery, drugAmountsOf } from "./drug-amounts.js";
import * as encounters from "./encounters.js";
import { type EntryQuery, entriesPage, entryHistory } from "./entries.js";
import { type ExplanationQuery, explanation } from "./explanation.js";
import { acknowledge, type FindingsQuery, findings } from "./findings.js";
import { newUuid } from "./ids.js";
import { KeptWork } from "./kept-work.js";
import type { Page } from "./own-entries.js";
import { type ReconciliationQuery, reconciliation } from "./reconciliation.js";
import type { Author } from "./record.js";
import { type Recordings, recordedSince } from "./recorded-since.js";
import { once, record } from "./recording.js";
import type { Outcome } from "./refusal.js";
import { type ShiftQuery, shift } from "./shift.js";
import { type SignatureBody, sign } from "./signing.js";
import { threeWays } from "./three-ways.js";
import { unitAudit } from "./unit-audit.js";
import type { UnitAuditQuery } from "./unit-audit-text.js";
import * as units from "./units.js";
import { type Verdict, verify } from "./verify.js";

/** The present, in whole milliseconds since the epoch. */
export type Clock = () => number;

/** The caller of a request: who signs entries, and what they may see. */
export interface Caller extends Author {
  readonly source: Source;
  /** The only units they may act on; null for all. */
  readonly units: readonly string[] | null;
  /** They have stated an emergency: they chart as if of every unit, and move and discharge nobody by it. */
  readonly inEmergency?: true;
}

/** The only units whose time a caller may chart and sign for; null for all. */
function chartsFor({ units, inEmergency }: Caller): readonly string[] | null {
  return inEmergency ? null : units;
}

/** A period of a stay as a caller names it. */
export type PeriodAsked =
  | { readonly shift: string }
  | { readonly day: string }
  | { readonly from: Instant; readonly to: Instant };

/** What was known: a sequence, or everything recorded by an instant; absent, all. */
export type AsOf = { readonly sequence: number } | { readonly recordedBy: Instant };

export interface Asked {
  readonly asOf?: AsOf | undefined;
  readonly until?: Instant | undefined;
}

export interface VolumesQuery extends Asked {
  readonly period: PeriodAsked;
  readonly by: "hour" | "shift" | "day" | "whole";
  readonly per: Grouping;
  /** Whole microlitres; absent, what the unit has set. */
  readonly precision?: number | undefined;
}

export interface EntriesQuery extends Asked {
  readonly order: "recorded" | "at";
  readonly kinds: readonly string[];
  readonly from?: Instant | undefined;
  readonly to?: Instant | undefined;
  readonly after?: string | undefined;
  readonly limit: number;
}

export interface Recording {
  readonly posted: readonly Posted[];
  readonly ifMatch: number | null;
  readonly dryRun: boolean;
  /** Written down while there was no connection: recorded without a question. */
  readonly queued: boolean;
  /** Whether the caller may read of the patient; else they are told where their entries stand and nothing more. */
  readonly reads: boolean;
}

/** The Idempotency-Key of a request, in the scope of its caller and route. */
export interface IdempotencyKey {
  readonly scope: string;
  readonly key: string;
  readonly fingerprint: string;
}

/** A written answer: what a retry with the same key gets again, to the letter. */
export interface Written {
  readonly status: number;
  readonly body: string;
  /** The sequence of the encounter the answer leaves, for its ETag. */
  readonly sequence: number | null;
  /** The id of what was made, for a Location. */
  readonly id: string | null;
}

export class Ledger {
  readonly #kept = new KeptWork();

  constructor(
    private readonly store: Store,
    private readonly clock: Clock,
    private readonly newId: () => string = newUuid,
  ) {}

  now(): Instant {
    return instant(this.clock());
  }

  openUnit(caller: Caller, body: UnitBody, key: IdempotencyKey | null): Promise<Outcome<Written>> {
    const request = { author: caller, body, key, now: this.now(), newId: this.newId };
    return this.store.transact(() => units.openUnit(request));
  }

  changeUnit(caller: Caller, unit: string, body: UnitPatch): Promise<Outcome<Written>> {
    const request = { author: caller, unit, body, now: this.now(), newId: this.newId };
    return this.store.transact(() => units.changeUnit(request));
  }

  units(caller: Caller, after: string | null, limit: number): Promise<Page> {
    return this.store.read(() => units.units(caller.units, after, limit, this.now()));
  }

  unit(id: string): Promise<Outcome<object>> {
    return this.store.read(() => units.unit(id, this.now()));
  }

  admit(caller: Caller, body: EncounterBody, key: IdempotencyKey | null): Promise<Outcome<Written>> {
    const request = { author: caller, body, key, now: this.now(), newId: this.newId };
    return this.store.transact(() => encounters.admit(request));
  }

  changeEncounter(
    caller: Caller,
    encounter: string,
    body: EncounterPatch,
    ifMatch: number | null = null,
  ): Promise<Outcome<Written>> {
    const { units } = caller;
    const request = { author: caller, units, encounter, body, ifMatch, now: this.now(), newId: this.newId };
    return this.store.transact(() => encounters.changeEncounter(request));
  }

  encounters(
    units: readonly string[] | null,
    open: boolean | null,
    after: string | null,
    limit: number,
  ): Promise<Page> {
    return this.store.read(() => encounters.encounters(units, open, after, limit, this.now()));
  }

  encounter(
    id: string,
    asked: Pick<Asked, "asOf"> = {},
  ): Promise<Outcome<{ answer: object; sequence: number }>> {
    return this.store.read(() => encounters.encounter(id, asked, this.now()));
  }

  /** Where the chain of an encounter ends. */
  async headOf(encounter: string): Promise<{ readonly sequence: number; readonly digest: string }> {
    const chain = `encounter/${encounter}` as const;
    const { sequence, digest } = await this.store.read(() => ask({ ask: "head", chain }));
    return { sequence, digest };
  }

  /** The unit an encounter is in now; undefined where there is no such encounter. */
  unitOf(encounter: string): Promise<string | undefined> {
    return this.store.unitOf(encounter);
  }

  /** Which unit charts which time of a stay, as of now; undefined where there is no such encounter. */
  stationsOf(encounter: string): Promise<Conventions | undefined> {
    return this.store.read(() => stations(`encounter/${encounter}`));
  }

  record(caller: Caller, encounter: string, recording: Recording, key: IdempotencyKey | null) {
    const request = {
      chain: `encounter/${encounter}` as const,
      author: { id: caller.id, name: caller.name, role: caller.role },
      source: caller.source,
      units: chartsFor(caller),
      now: this.now(),
      newId: this.newId,
      key,
      ...recording,
    };
    return this.store.transact(() => record(request));
  }

  entries(encounter: string, query: EntriesQuery): Promise<Outcome<object>> {
    return this.store.read(() => entriesPage(encounter, query, this.now()));
  }

  entry(encounter: string, id: string, query: EntryQuery): Promise<Outcome<object>> {
    return this.store.read(() => entryHistory(encounter, id, query, this.now()));
  }

  volumes(encounter: string, query: VolumesQuery): Promise<Outcome<object>> {
    return this.store.read(() => answers.volumes(encounter, query, this.now()));
  }

  flows(encounter: string, query: Asked & { readonly period: PeriodAsked }): Promise<Outcome<object>> {
    return this.store.read(() => answers.flows(encounter, query, this.now()));
  }

  totals(encounter: string, query: Asked & { readonly at?: Instant | undefined }): Promise<Outcome<object>> {
    return this.store.read(() => totals(encounter, query, this.now()));
  }

  findings(encounter: string, query: FindingsQuery): Promise<Outcome<object>> {
    return this.store.read(() => findings(encounter, query, this.now()));
  }

  acknowledge(
    caller: Caller,
    encounter: string,
    finding: string,
    reason: string,
    key: IdempotencyKey | null,
  ) {
    const request = { author: caller, encounter, finding, reason, now: this.now(), newId: this.newId };
    return this.store.transact(() => once(key, request.now, acknowledge(request)));
  }

  shift(encounter: string, query: ShiftQuery): Promise<Outcome<object>> {
    return this.store.read(() => shift(encounter, query, this.now()));
  }

  sign(caller: Caller, encounter: string, shift: string, body: SignatureBody, key: IdempotencyKey | null) {
    const units = chartsFor(caller);
    const request = { author: caller, units, encounter, shift, body, now: this.now(), newId: this.newId };
    return this.store.transact(() => once(key, request.now, sign(request)));
  }

  changes(encounter: string, query: ChangesQuery): Promise<Outcome<object>> {
    return this.store.read(() => changes(encounter, query, this.now()));
  }

  /** One encounter for itself, piece by piece; `caution` is what its reader has to know. */
  bundle(encounter: string, asked: Pick<Asked, "asOf">, caution: string) {
    return bundle(this.store, encounter, asked, caution, this.now());
  }

  balance(encounter: string, query: BalanceQuery): Promise<Outcome<object>> {
    return this.store.read(() => balance(encounter, query, this.now()));
  }

  keepChart(caller: Caller, encounter: string, body: ChartBody, key: IdempotencyKey | null) {
    const request = { author: caller, encounter, body, now: this.now(), newId: this.newId };
    return this.store.transact(() => once(key, request.now, charts.keepChart(request)));
  }

  charts(encounter: string, query: charts.ChartsQuery): Promise<Outcome<object>> {
    return this.store.read(() => charts.charts(encounter, query, this.now()));
  }

  chart(encounter: string, id: string, query: Asked): Promise<Outcome<object>> {
    return this.store.read(() => charts.chart(encounter, id, query, this.now()));
  }

  reconciliation(encounter: string, query: ReconciliationQuery): Promise<Outcome<object>> {
    return this.store.read(() => reconciliation(encounter, query, this.now()));
  }

  drugAmounts(encounter: string, query: DrugAmountsQuery): Promise<Outcome<object>> {
    return this.store.read(() => drugAmountsOf(encounter, query, this.now()));
  }

  explanation(encounter: string, query: ExplanationQuery): Promise<Outcome<object>> {
    return this.store.read(() => explanation(encounter, query, this.now()));
  }

  threeWays(encounter: string, query: Asked & { readonly period: PeriodAsked }): Promise<Outcome<object>> {
    return this.store.read(() => threeWays(encounter, query, this.now()));
  }

  /** Of which encounters something was recorded after a place in the order of all recording; null for the present. */
  recordedSince(place: number | null): Promise<Recordings> {
    return this.store.read(() => recordedSince(place));
  }

  /** How well a shift of a unit is documented. */
  unitAudit(unit: string, query: UnitAuditQuery): Promise<Outcome<object>> {
    return this.store.read(() => unitAudit(unit, query, this.now(), this.#kept));
  }

  /** Whether every row of the store is what it was when it was recorded, and the directory says what the rows say. */
  verify(head?: string): Verdict {
    return this.store.whole((rows, stays) => verify(rows, head, stays));
  }
}
