/**
 * One patient's stay in a ledger of its own file, as the tests of the ledger drive it: JSON in, JSON
 * out, and a clock that stands until it is set. Closing and opening again loses all that is only in
 * memory. Nothing here computes anything.
 */

import Database from "better-sqlite3";
import { onTestFinished } from "vitest";
import type {
  AsOf,
  Caller,
  IdempotencyKey,
  PeriodAsked,
  VolumesQuery,
  Written,
} from "../../src/ledger/ledger.js";
import { Ledger } from "../../src/ledger/ledger.js";
import { canonical, digestOf } from "../../src/ledger/record.js";
import type { Outcome, Refusal } from "../../src/ledger/refusal.js";
import type { UnitAuditQuery } from "../../src/ledger/unit-audit-text.js";
import { openSqlite } from "../../src/store/sqlite.js";
import type { Store } from "../../src/store/store.js";
import { type Instant, instant } from "../../src/time/instant.js";
import type { EncounterBody } from "../../src/wire/encounters.js";
import { parseEntries } from "../../src/wire/entry.js";
import type { UnitBody, UnitPatch } from "../../src/wire/units.js";
import { ledgerPath } from "../store/ledger-file.js";
import { at, running, type Told, when } from "./telling.js";

// biome-ignore lint/suspicious/noExplicitAny: answers are JSON, read by the field a test is about
export type Json = any;

export const NURSE: Caller = { id: "n-1", name: "A. Nurse", role: "nurse", source: "person", units: null };
export const PUMPS: Caller = { id: "d-1", name: "Pumps", role: "device", source: "device", units: null };

export const EAST: UnitBody = {
  id: "east",
  name: "East",
  zone: "America/Chicago",
  shifts: [
    { name: "day", label: "Day", starts: "07:00" },
    { name: "night", label: "Night", starts: "19:00" },
  ],
};

/** A unit with other shifts, an hour further east. */
export const WEST: UnitBody = {
  id: "west",
  name: "West",
  zone: "America/New_York",
  shifts: [
    { name: "early", starts: "06:00" },
    { name: "late", starts: "14:00" },
    { name: "night", starts: "22:00" },
  ],
};

const ADMITTED: EncounterBody = {
  id: "stay-1",
  unit: "east",
  patient: { identifier: "P-1" },
  admittedAt: "2026-03-04T06:00:00-06:00",
  admissionWeight: { value: 70, unit: "kg" },
};

export interface PostOptions {
  readonly as?: Caller;
  readonly ifMatch?: number | null;
  readonly dryRun?: boolean;
  readonly key?: IdempotencyKey | null;
  readonly encounter?: string;
  /** Whether it was written down without a connection: as most tests tell it, so that nobody is asked. */
  readonly queued?: boolean;
}

interface AuditedBy {
  readonly unit?: string;
  readonly ledger?: Ledger;
}

export class Stay {
  #store: Store;
  #ledger: Ledger;
  #ids = 0;
  #now: number;

  private constructor(
    readonly path: string,
    store: Store,
    now: number,
  ) {
    this.#store = store;
    this.#now = now;
    this.#ledger = this.#over(store);
  }

  /** A stay of a patient of 70 kg, admitted on 4 March at 06:00; it is 14:00. */
  static async begun(
    options: { unit?: Partial<UnitBody>; encounter?: Partial<EncounterBody>; now?: string } = {},
  ): Promise<Stay> {
    const path = ledgerPath();
    const stay = new Stay(path, await opened(path), when(options.now ?? "14:00"));
    onTestFinished(() => stay.#store.close());
    done(await stay.#ledger.openUnit(NURSE, { ...EAST, ...options.unit }, null));
    done(await stay.#ledger.admit(NURSE, { ...ADMITTED, ...options.encounter }, null));
    return stay;
  }

  /** The same with a pump that has run since 07:00, and what else is told. */
  static async running(...more: readonly Told[]): Promise<Stay> {
    const stay = await Stay.begun();
    await stay.post([...running(), ...more]);
    return stay;
  }

  /** The same, where the patient may be moved to the unit west. */
  static async besideWest(settings: NonNullable<UnitBody["settings"]>): Promise<Stay> {
    const stay = await Stay.begun();
    await stay.ledger.openUnit(NURSE, { ...WEST, settings }, null);
    await stay.post(running());
    return stay;
  }

  #over(store: Store): Ledger {
    return new Ledger(
      store,
      () => this.#now,
      () => `made-${++this.#ids}`,
    );
  }

  get ledger(): Ledger {
    return this.#ledger;
  }

  /** A ledger over the same store that remembers nothing of what was asked. */
  afresh(): Ledger {
    return this.#over(this.#store);
  }

  get now(): Instant {
    return instant(this.#now);
  }

  /** Sets the clock. */
  itIs(clock: string | number): this {
    this.#now = typeof clock === "number" ? clock : when(clock);
    return this;
  }

  /** Closes and opens the file: whatever was only remembered is gone. */
  async reopened(): Promise<this> {
    await this.#store.close();
    this.#store = await opened(this.path);
    this.#ledger = this.#over(this.#store);
    return this;
  }

  /** Works on the bare file while no ledger has it open. */
  async inTheFile(work: (file: Database.Database) => void): Promise<this> {
    await this.#store.close();
    const file = new Database(this.path);
    try {
      work(file);
    } finally {
      file.close();
    }
    this.#store = await opened(this.path);
    this.#ledger = this.#over(this.#store);
    return this;
  }

  withoutCheckpoints(): Promise<this> {
    return this.inTheFile((file) => file.exec("delete from checkpoint"));
  }

  /** What a request comes to; the entries must be well formed. */
  async send(entries: readonly Told[], options: PostOptions = {}): Promise<Outcome<Written>> {
    const parsed = parseEntries({ entries });
    if (parsed.faults !== undefined) throw new Error(`badly formed: ${JSON.stringify(parsed.faults)}`);
    const posted = parsed.entries.map((entry, i) => ({ sent: entries[i], entry }));
    const {
      as = NURSE,
      ifMatch = null,
      dryRun = false,
      key = null,
      encounter = "stay-1",
      queued = true,
    } = options;
    return this.#ledger.record(as, encounter, { posted, ifMatch, dryRun, queued, reads: true }, key);
  }

  /** Posts entries that must be taken, and returns the answer. */
  async post(entries: readonly Told[], options: PostOptions = {}): Promise<{ status: number; body: Json }> {
    const { status, body } = done(await this.send(entries, options));
    return { status, body: JSON.parse(body) };
  }

  /** Posts entries that must be refused, and returns why. */
  async refused(entries: readonly Told[], options: PostOptions = {}): Promise<Refusal> {
    const outcome = await this.send(entries, options);
    if (outcome.refused === undefined) throw new Error(`was taken: ${outcome.done.body}`);
    return outcome.refused;
  }

  /** The codes and places of what is wrong with entries: "#/entries/0/at too-early". */
  async faults(entries: readonly Told[], options: PostOptions = {}): Promise<string[]> {
    const refusal = await this.refused(entries, options);
    if (refusal.problem !== "invalid-entries") throw new Error(`refused otherwise: ${refusal.problem}`);
    return refusal.errors.map(({ pointer, code }) => `${pointer} ${code}`);
  }

  async volumes(period: PeriodAsked | string, query: Partial<VolumesQuery> = {}): Promise<Json> {
    const asked = typeof period === "string" ? { shift: period } : period;
    return done(await this.#ledger.volumes("stay-1", { period: asked, by: "hour", per: "line", ...query }));
  }

  /** A line's volumes by hour over a shift, in mL. */
  async hours(shift: string, line = "forearm", query: Partial<VolumesQuery> = {}): Promise<Json> {
    const { rows } = await this.volumes(shift, query);
    return rows.find((row: Json) => row.key === line)?.volumes ?? [];
  }

  /** What the patient drank, by the hours of a shift, in mL. */
  async oral(shift: string): Promise<(number | null)[]> {
    const { rows } = await this.volumes(shift, { per: "category" });
    return rows.find(({ key }: Json) => key === "oral")?.volumes ?? [];
  }

  async totals(query: { at?: string; asOf?: AsOf; until?: Instant } = {}): Promise<Json> {
    const { at: moment, ...coordinates } = query;
    const asked = moment === undefined ? coordinates : { ...coordinates, at: when(moment) };
    return done(await this.#ledger.totals("stay-1", asked));
  }

  async flows(period: PeriodAsked, query: { asOf?: AsOf; until?: Instant } = {}): Promise<Json> {
    return done(await this.#ledger.flows("stay-1", { period, ...query }));
  }

  /** Every entry of the stay in order of recording, those of the ledger included. */
  async entries(query: { order?: "recorded" | "at"; asOf?: AsOf } = {}): Promise<Json[]> {
    const asked = { order: "recorded" as const, kinds: [], limit: 1_000, ...query };
    return (done(await this.#ledger.entries("stay-1", asked)) as Json).entries;
  }

  async entry(id: string): Promise<Json> {
    return done(await this.#ledger.entry("stay-1", id, { limit: 1_000 }));
  }

  /** The rate in mL/h that an entry told by dose, drops or duration came to. */
  async rateOf(id: string): Promise<number> {
    return (await this.entry(id)).recorded.frozen.rate;
  }

  async sequence(): Promise<number> {
    return done(await this.#ledger.encounter("stay-1")).sequence;
  }

  /** A shift in one answer. */
  async shift(
    name: string,
    query: { asOf?: AsOf; until?: Instant; units?: readonly string[] | null } = {},
  ): Promise<Json> {
    return done(await this.#ledger.shift("stay-1", { shift: name, units: null, ...query }));
  }

  /** Signs what there is for somebody to sign of a shift, as it is, questions or not; null where there is nothing. */
  async signs(name: string, as: Caller = NURSE): Promise<Json> {
    const { toSign } = await this.shift(name, { units: as.units });
    if (toSign === null) return null;
    const body = { digest: toSign.digest, to: toSign.to, remark: "Looked at." };
    return JSON.parse(done(await this.#ledger.sign(as, "stay-1", name, body, null)).body);
  }

  async findings(query: { asOf?: AsOf; until?: Instant } = {}): Promise<Json[]> {
    return (done(await this.#ledger.findings("stay-1", { state: "all", ...query })) as Json).findings;
  }

  /** The audit of a shift of a unit, of every encounter, in order of their ids. */
  async audit(
    shift = "2026-03-04/day",
    { unit = "east", ledger = this.#ledger, ...query }: Partial<UnitAuditQuery> & AuditedBy = {},
  ): Promise<Json> {
    const all = { counted: [], notCounted: [], order: "most-first" as const };
    return done(await ledger.unitAudit(unit, { ...all, ...query, shift }));
  }

  async move(unit: string, clock: string): Promise<Json> {
    return this.#change({ move: { unit, at: at(clock) } });
  }

  async discharge(clock: string): Promise<Json> {
    return this.#change({ discharge: { at: at(clock) } });
  }

  /** Takes the discharge back. */
  async dischargeUndone(): Promise<Json> {
    return this.#change({ dischargedAt: null, reason: "The transfer was called off." });
  }

  async #change(patch: Parameters<Ledger["changeEncounter"]>[2]): Promise<Json> {
    return JSON.parse(done(await this.#ledger.changeEncounter(NURSE, "stay-1", patch)).body);
  }

  async settle(unit: string, patch: UnitPatch): Promise<Json> {
    return JSON.parse(done(await this.#ledger.changeUnit(NURSE, unit, patch)).body);
  }
}

function opened(path: string): Promise<Store> {
  return openSqlite(path, { migrate: true });
}

/** What was done; a refusal is an error here. */
export function done<T>(outcome: Outcome<T>): T {
  if (outcome.refused !== undefined) throw new Error(`refused: ${JSON.stringify(outcome.refused)}`);
  return outcome.done;
}

/** A key as a route makes one of a request's Idempotency-Key and body. */
export function keyed(key: string, entries: readonly Told[]): IdempotencyKey {
  return { scope: "n-1 entries stay-1", key, fingerprint: digestOf(canonical({ entries })) };
}
