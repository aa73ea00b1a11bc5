/**
 * Units and stays: what is no clinical entry, and still changes figures. Whatever does is an entry of
 * the encounter's own chain; the directory of stays only helps to find one.
 */

import { changeFaults } from "../conventions/change-faults.js";
import { ask, type Chain, type Decision, type Inquiry, type Stay, type Write } from "../store/store.js";
import { type Instant, later, MINUTE } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import type { EncounterBody, EncounterPatch } from "../wire/encounters.js";
import type { Fault, FaultCode } from "../wire/fault.js";
import { readInstant } from "../wire/instant.js";
import type { LedgerText } from "../wire/stored.js";
import type { UnitBody, UnitPatch } from "../wire/units.js";
import type { IdempotencyKey, Written } from "./ledger.js";
import { type Author, type Recorded, rowOf } from "./record.js";
import { once } from "./recording.js";
import { done, type Outcome, refused } from "./refusal.js";
import { happenedAt } from "./sense.js";
import { changeOf, type StayFacts, stayFacts } from "./stay.js";
import { shiftsOfStay } from "./stay-shifts.js";
import { openedText, stationText, type UnitFacts, unitConventions, unitFacts, unitText } from "./unit.js";

interface Request {
  readonly author: Author;
  readonly now: Instant;
  readonly newId: () => string;
}

type Answered = Inquiry<Decision<Outcome<Written>>>;

export interface Page {
  readonly items: readonly object[];
  readonly next?: string;
}

const AHEAD = 5 * MINUTE;

export function* openUnit(request: Request & { body: UnitBody; key: IdempotencyKey | null }): Answered {
  return yield* once(request.key, request.now, openUnitNow(request));
}

function* openUnitNow({ author, body, now, newId }: Request & { body: UnitBody }): Answered {
  const id = body.id ?? newId();
  const chain: Chain = `unit/${id}`;
  const head = yield* ask({ ask: "head", chain });
  if (head.sequence > 0) return nothing(refused({ problem: "id-exists", what: "unit", id }));
  const opened = openedText(body);
  const write = yield* adding(chain, opened, { author, now, newId });
  const facts: UnitFacts = { id, opened, changes: [] };
  const answer = JSON.stringify(unitText(facts, now));
  const written = { status: 201, body: answer, sequence: null, id };
  return { writes: [write, { write: "unit", unit: id }], answer: done(written) };
}

/** Settings and shifts are dated, and written into the chain of every stay whose figures they may move. */
export function* changeUnit(request: Request & { unit: string; body: UnitPatch }): Answered {
  const { unit: id, body, now } = request;
  const facts = yield* unitFacts(id);
  if (facts === undefined) return nothing(refused({ problem: "not-found", what: "unit", id }));
  const change = {
    kind: "settings-changed" as const,
    unit: id,
    effectiveFrom: body.effectiveFrom ?? formatInstant(now, facts.opened.zone),
    ...("settings" in body ? { settings: body.settings } : {}),
    ...("shifts" in body && body.shifts !== undefined ? { shifts: body.shifts } : {}),
    ...(body.name === undefined ? {} : { name: body.name }),
  };
  const faults = changeFaults(changeOf(change), unitConventions(facts));
  if (faults.length > 0) {
    const errors = faults.map(({ concerns, detail }): Fault => {
      const pointer = concerns === "shifts" ? "#/shifts" : "#/settings/boundary";
      return { pointer, code: "not-a-shift-start", detail };
    });
    return nothing(refused({ problem: "invalid-body", errors }));
  }
  const writes: Write[] = [yield* adding(`unit/${id}`, change, request)];
  if (change.settings !== undefined || change.shifts !== undefined) {
    writes.push(...(yield* intoStays(id, change, request)));
  }
  const answer = JSON.stringify(unitText({ ...facts, changes: [...facts.changes, change] }, now));
  return { writes, answer: done({ status: 200, body: answer, sequence: null, id: null }) };
}

function* intoStays(
  unit: string,
  change: Extract<LedgerText, { kind: "settings-changed" }>,
  request: Request,
): Inquiry<Write[]> {
  const from = readInstant(change.effectiveFrom);
  const writes: Write[] = [];
  let after: string | null = null;
  do {
    // A change for the past also reaches patients who have been here and moved on.
    // Of whom a move is recorded already may not be here any more when the change comes into force.
    const inUnit = from <= later(request.now, AHEAD) ? null : unit;
    const stays: readonly Stay[] = yield* ask({
      ask: "stays",
      unit: inUnit,
      open: null,
      after,
      limit: 1_000,
    });
    for (const stay of stays) {
      if (stay.dischargedAt !== null && stay.dischargedAt <= from) continue;
      const chain: Chain = `encounter/${stay.encounter}`;
      const head = yield* ask({ ask: "head", chain });
      const facts = yield* stayFacts(chain, head.sequence);
      if (!facts?.stations.some((station) => station.unit === unit)) continue;
      writes.push(yield* adding(chain, change, request));
      writes.push({ write: "end-checkpoints", chain, after: from, before: null, validTo: head.sequence + 1 });
    }
    after = stays.length === 1_000 ? stays.at(-1)!.encounter : null;
  } while (after !== null);
  return writes;
}

export function* units(
  only: string | null,
  after: string | null,
  limit: number,
  now: Instant,
): Inquiry<Page> {
  const ids =
    only === null ? yield* ask({ ask: "units", after, limit: limit + 1 }) : after === null ? [only] : [];
  const items: object[] = [];
  for (const id of ids.slice(0, limit)) {
    const facts = yield* unitFacts(id);
    if (facts !== undefined) items.push(unitText(facts, now));
  }
  return { items, ...(ids.length > limit ? { next: ids[limit - 1]! } : {}) };
}

export function* unit(id: string, now: Instant): Inquiry<Outcome<object>> {
  const facts = yield* unitFacts(id);
  return facts === undefined
    ? refused({ problem: "not-found", what: "unit", id })
    : done(unitText(facts, now));
}

export function* admit(request: Request & { body: EncounterBody; key: IdempotencyKey | null }): Answered {
  return yield* once(request.key, request.now, admitNow(request));
}

function* admitNow(request: Request & { body: EncounterBody }): Answered {
  const { body, now, newId } = request;
  const unit = yield* unitFacts(body.unit);
  const admittedAt = readInstant(body.admittedAt);
  const faults = [...unknownUnit(unit, "#/unit", body.unit), ...tooFarAhead(admittedAt, "#/admittedAt", now)];
  if (faults.length > 0) return nothing(refused({ problem: "invalid-body", errors: faults }));
  const id = body.id ?? newId();
  const chain: Chain = `encounter/${id}`;
  const head = yield* ask({ ask: "head", chain });
  if (head.sequence > 0) return nothing(refused({ problem: "id-exists", what: "encounter", id }));
  const admitted = {
    kind: "admitted" as const,
    at: body.admittedAt,
    unit: body.unit,
    ...(body.bed === undefined ? {} : { bed: body.bed }),
    ...(body.admissionWeight === undefined ? {} : { weight: body.admissionWeight }),
    ...stationText(unit!),
  };
  const stay: Stay = {
    encounter: id,
    unit: body.unit,
    bed: body.bed ?? null,
    patientIdentifier: body.patient.identifier,
    patientName: body.patient.name ?? null,
    admittedAt,
    dischargedAt: null,
  };
  const write = yield* adding(chain, admitted, request);
  const { sequence, digest } = write.row;
  const zone = unit!.opened.zone;
  const text = { ...stayText(stay, zone), ...weightText(body), ledger: { sequence, digest } };
  const answer = { status: 201, body: JSON.stringify(text), sequence, id };
  return { writes: [write, { write: "stay", stay }], answer: done(answer) };
}

/** A move or discharge is an entry of the chain; another bed only concerns the directory. */
export function* changeEncounter(request: Request & { encounter: string; body: EncounterPatch }): Answered {
  const { encounter: id, body, now } = request;
  const chain: Chain = `encounter/${id}`;
  const stay = yield* ask({ ask: "stay", encounter: id });
  const head = yield* ask({ ask: "head", chain });
  const facts = yield* stayFacts(chain, head.sequence);
  if (stay === undefined || facts === undefined) {
    return nothing(refused({ problem: "not-found", what: "encounter", id }));
  }
  if ("bed" in body) return yield* changed({ ...stay, bed: body.bed }, facts, []);
  const target = "move" in body ? yield* unitFacts(body.move.unit) : undefined;
  const [at, pointer] =
    "move" in body ? [readInstant(body.move.at), "#/move"] : [readInstant(body.discharge.at), "#/discharge"];
  const faults = [
    ...("move" in body ? unknownUnit(target, "#/move/unit", body.move.unit) : []),
    ...tooFarAhead(at, `${pointer}/at`, now),
    ...outsideStay(at, `${pointer}/at`, facts, "discharge" in body),
  ];
  if (faults.length > 0) return nothing(refused({ problem: "invalid-body", errors: faults }));
  const entry: LedgerText =
    "move" in body
      ? {
          kind: "moved",
          at: body.move.at,
          unit: body.move.unit,
          ...(body.move.bed === undefined ? {} : { bed: body.move.bed }),
          ...stationText(target!),
        }
      : { kind: "discharged", at: body.discharge.at };
  const write = yield* adding(chain, entry, request);
  const isLast = facts.stations.every((station) => station.from <= at);
  const next: Stay =
    "move" in body
      ? isLast
        ? { ...stay, unit: body.move.unit, bed: body.move.bed ?? null }
        : stay
      : { ...stay, dischargedAt: at };
  const ending: Write = {
    write: "end-checkpoints",
    chain,
    after: at,
    before: null,
    validTo: write.row.sequence,
  };
  return yield* changed(next, facts, [write, ending], write.row);
}

function* changed(
  stay: Stay,
  facts: StayFacts,
  writes: readonly Write[],
  row?: { readonly sequence: number; readonly digest: string },
): Answered {
  const head = row ?? (yield* ask({ ask: "head", chain: `encounter/${stay.encounter}` }));
  const { zone } = facts.conventions.stretchAt(stay.dischargedAt ?? facts.stations.at(-1)!.from);
  const ledger = { sequence: head.sequence, digest: head.digest };
  const body = JSON.stringify({ ...stayText(stay, zone), ...weightText(facts), ledger });
  const answer = { status: 200, body, sequence: head.sequence, id: null };
  return { writes: [...writes, { write: "stay", stay }], answer: done(answer) };
}

export function* encounters(
  unit: string | null,
  open: boolean | null,
  after: string | null,
  limit: number,
): Inquiry<Page> {
  const stays = yield* ask({ ask: "stays", unit, open, after, limit: limit + 1 });
  const items: object[] = [];
  for (const stay of stays.slice(0, limit)) {
    const told = yield* encounterText(stay);
    if (told !== undefined) items.push(told.text);
  }
  return { items, ...(stays.length > limit ? { next: stays[limit - 1]!.encounter } : {}) };
}

export function* encounter(id: string, now: Instant): Inquiry<Outcome<{ answer: object; sequence: number }>> {
  const stay = yield* ask({ ask: "stay", encounter: id });
  const told = stay === undefined ? undefined : yield* encounterText(stay);
  if (told === undefined) return refused({ problem: "not-found", what: "encounter", id });
  const shifts = shiftsOfStay(told.facts, now);
  return done({ answer: { ...told.text, shifts }, sequence: told.text.ledger.sequence });
}

export function* unitOf(id: string): Inquiry<string | undefined> {
  const stay = yield* ask({ ask: "stay", encounter: id });
  return stay?.unit;
}

function* encounterText(stay: Stay) {
  const chain: Chain = `encounter/${stay.encounter}`;
  const { sequence, digest } = yield* ask({ ask: "head", chain });
  const facts = yield* stayFacts(chain, sequence);
  if (facts === undefined) return undefined;
  const { zone } = facts.conventions.stretchAt(facts.stations.at(-1)!.from);
  return { facts, text: { ...stayText(stay, zone), ...weightText(facts), ledger: { sequence, digest } } };
}

function stayText(stay: Stay, zone: string) {
  const { encounter, unit, bed, patientIdentifier, patientName, admittedAt, dischargedAt } = stay;
  return {
    id: encounter,
    unit,
    ...(bed === null ? {} : { bed }),
    patient: { identifier: patientIdentifier, ...(patientName === null ? {} : { name: patientName }) },
    admittedAt: formatInstant(admittedAt, zone),
    ...(dischargedAt === null ? {} : { dischargedAt: formatInstant(dischargedAt, zone) }),
  };
}

function weightText({ admissionWeight }: Pick<EncounterBody, "admissionWeight">) {
  return admissionWeight === undefined ? {} : { admissionWeight };
}

/** The write that adds an entry of the ledger's own to a chain. */
function* adding(chain: Chain, body: LedgerText, { author, now, newId }: Request) {
  const head = yield* ask({ ask: "head", chain });
  const recorded: Recorded = {
    chain,
    sequence: head.sequence + 1,
    id: newId(),
    recordedAt: (now > head.recordedAt ? now : head.recordedAt) as Instant,
    by: { id: author.id, name: author.name, role: author.role },
    source: "person",
    body,
    previous: head.digest,
  };
  return { write: "row" as const, row: rowOf(recorded, { at: happenedAt(body), declares: null }) };
}

function nothing<T>(answer: T): Decision<T> {
  return { writes: [], answer };
}

function unknownUnit(unit: UnitFacts | undefined, pointer: string, id: string): Fault[] {
  if (unit !== undefined) return [];
  return [fault(pointer, "unknown-unit", `There is no unit "${id}".`)];
}

function tooFarAhead(at: Instant, pointer: string, now: Instant): Fault[] {
  if (at <= later(now, AHEAD)) return [];
  return [
    fault(pointer, "too-far-ahead", "This lies more than 5 minutes ahead: record it when it has happened."),
  ];
}

function outsideStay(at: Instant, pointer: string, facts: StayFacts, ends: boolean): Fault[] {
  if (at <= facts.admittedAt) {
    return [fault(pointer, "inconsistent", "This must lie after the patient's admission.")];
  }
  if (ends && facts.dischargedAt !== null) {
    return [fault(pointer, "inconsistent", "The stay has ended already.")];
  }
  return [];
}

function fault(pointer: string, code: FaultCode, detail: string): Fault {
  return { pointer, code, detail };
}
