/**
 * Stays: admitted, moved, discharged. Each is an entry of the encounter's own chain, since it changes
 * figures; the directory of stays only helps to find one.
 */

import { conventionsOf } from "../conventions/dated.js";
import { ask, type Chain, type Inquiry, type Stay, type Write } from "../store/store.js";
import { type Instant, later } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import type { EncounterBody, EncounterPatch } from "../wire/encounters.js";
import type { Fault, FaultCode } from "../wire/fault.js";
import { readInstant } from "../wire/instant.js";
import type { LedgerText } from "../wire/stored.js";
import { departures, FINISHED_WITHIN, othersStay } from "./charting.js";
import { type Coordinates, coordinates } from "./coordinates.js";
import { dischargeUndone } from "./discharge-undone.js";
import { recordedOf } from "./families.js";
import type { Asked, IdempotencyKey } from "./ledger.js";
import { AHEAD, type Answered, adding, nothing, type Page, type Request } from "./own-entries.js";
import { patientDigest } from "./patient.js";
import { type Keeping, once } from "./recording.js";
import { done, type Outcome, refused } from "./refusal.js";
import { type StayFacts, stayFacts } from "./stay.js";
import { shiftsOfStay } from "./stay-shifts.js";
import { stationText, type UnitFacts, unitFacts } from "./unit.js";

export function* admit(request: Request & { body: EncounterBody; key: IdempotencyKey | null }): Answered {
  return yield* once(request.key, request.now, admitNow(request), WITHOUT_THE_PATIENT);
}

interface AdmittedText {
  readonly id: string;
  readonly unit: string;
  readonly bed?: string;
  readonly patient?: object;
}

/** Whom a stay is of stands in the directory alone, which never says another: a retry is told from there. */
const WITHOUT_THE_PATIENT: Keeping = {
  kept: (body) => {
    const { patient: _, ...rest } = JSON.parse(body) as AdmittedText;
    return JSON.stringify(rest);
  },
  whole: function* (body) {
    const { id, unit, bed, ...rest } = JSON.parse(body) as AdmittedText;
    const stay = yield* ask({ ask: "stay", encounter: id });
    return JSON.stringify({ id, unit, bed, patient: stay && patientText(stay), ...rest });
  },
};

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
  const stay: Stay = {
    encounter: id,
    unit: body.unit,
    bed: body.bed ?? null,
    patientIdentifier: body.patient.identifier,
    patientName: body.patient.name ?? null,
    patientSalt: newId(),
    admittedAt,
    dischargedAt: null,
  };
  const admitted = {
    kind: "admitted" as const,
    at: body.admittedAt,
    unit: body.unit,
    ...(body.bed === undefined ? {} : { bed: body.bed }),
    ...(body.admissionWeight === undefined ? {} : { weight: body.admissionWeight }),
    patient: patientDigest(stay)!,
    ...stationText(unit!),
  };
  const write = yield* adding(chain, admitted, request);
  const { sequence, digest } = write.row;
  const zone = unit!.opened.zone;
  const text = { ...stayText(stay, zone), ...weightText(body), ledger: { sequence, digest } };
  const answer = { status: 201, body: JSON.stringify(text), sequence, id };
  return { writes: [write, { write: "stay", stay }], answer: done(answer) };
}

interface EncounterChange {
  readonly encounter: string;
  readonly body: EncounterPatch;
  /** The sequence the caller takes the encounter to be at; null for any. */
  readonly ifMatch: number | null;
  /** The only units whose time the caller may change; null for every unit. */
  readonly units: readonly string[] | null;
}

/** A move or discharge is an entry of the chain; another bed only concerns the directory. */
export function* changeEncounter(request: Request & EncounterChange): Answered {
  const { encounter: id, body, ifMatch, units, now } = request;
  const chain: Chain = `encounter/${id}`;
  const stay = yield* ask({ ask: "stay", encounter: id });
  const head = yield* ask({ ask: "head", chain });
  const facts = yield* stayFacts(chain, head.sequence);
  if (stay === undefined || facts === undefined) {
    return nothing(refused({ problem: "not-found", what: "encounter", id }));
  }
  const known = { chain, upTo: head.sequence, staged: [], stagedFrom: null };
  const caller = { id: request.author.id, units };
  const others = yield* othersStay({ known, facts, caller, body, now });
  if (others !== undefined) return nothing(refused(others));
  if (ifMatch !== null && ifMatch !== head.sequence) {
    const since = ifMatch < head.sequence ? ifMatch : null;
    return nothing(refused({ problem: "stale-etag", sequence: head.sequence, since }));
  }
  if ("bed" in body) return yield* changed({ ...stay, bed: body.bed }, facts, []);
  if ("dischargedAt" in body) {
    if (facts.dischargedAt === null) {
      const errors = [fault("#/dischargedAt", "inconsistent", "The stay has not ended.")];
      return nothing(refused({ problem: "invalid-body", errors }));
    }
    const reason = body.reason ?? "The discharge was taken back.";
    const { writes, last } = yield* dischargeUndone(chain, head, facts, reason, request);
    return yield* changed({ ...stay, dischargedAt: null }, facts, writes, last);
  }
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
  if (!("move" in body)) return yield* changed(next, facts, [write, ending], write.row);
  // Whose it is when is all that is asked of this: the rest of a station does not matter.
  const station = { ...facts.stations[0]!, changes: [], from: at, unit: body.move.unit };
  const moved = conventionsOf([...facts.stations, station]);
  const left: Write = { write: "departures", encounter: id, departures: departures(moved) };
  return yield* changed(next, facts, [write, ending, left], write.row);
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
  units: readonly string[] | null,
  open: boolean | null,
  after: string | null,
  limit: number,
  now: Instant,
): Inquiry<Page> {
  const leftAfter = later(now, -FINISHED_WITHIN);
  const stays = yield* ask({ ask: "stays", units, open, leftAfter, after, limit: limit + 1 });
  const items: object[] = [];
  for (const stay of stays.slice(0, limit)) {
    const told = yield* encounterText(stay);
    if (told === undefined) continue;
    const { zone } = told.facts.conventions.stretchAt(now);
    items.push({ ...told.text, ...(stay.leftAt !== null && { leftAt: formatInstant(stay.leftAt, zone) }) });
  }
  return { items, ...(stays.length > limit ? { next: stays[limit - 1]!.encounter } : {}) };
}

export function* encounter(
  id: string,
  asked: Pick<Asked, "asOf">,
  now: Instant,
): Inquiry<Outcome<{ answer: object; sequence: number }>> {
  const resolved = yield* coordinates(`encounter/${id}`, asked, now);
  if (resolved.refused) return resolved;
  const { facts, until } = resolved.done;
  const stay = yield* ask({ ask: "stay", encounter: id });
  const asOf = asked.asOf === undefined ? undefined : resolved.done;
  const told = stay === undefined ? undefined : yield* encounterText(stay, asOf);
  if (told === undefined) return refused({ problem: "not-found", what: "encounter", id });
  const answer = { ...told.text, shifts: shiftsOfStay(facts, until) };
  return done({ answer, sequence: told.text.ledger.sequence });
}

/**
 * A stay as it is answered, with what is in force of it; undefined where its chain has no entries. As of an
 * earlier moment it is told by its chain; only whom it is of stands in the directory alone.
 */
export function* encounterText(stay: Stay, then?: Coordinates) {
  const chain: Chain = `encounter/${stay.encounter}`;
  const { sequence, digest } = then?.asOf ?? (yield* ask({ ask: "head", chain }));
  const facts = then?.facts ?? (yield* stayFacts(chain, sequence));
  if (facts === undefined) return undefined;
  const told = then === undefined ? stay : { ...stay, ...(yield* whereaboutsOf(then)) };
  const { zone } = facts.conventions.stretchAt(facts.stations.at(-1)!.from);
  return { facts, text: { ...stayText(told, zone), ...weightText(facts), ledger: { sequence, digest } } };
}

/** Where a patient was, and until when, as their chain says: a bed that was changed by itself stands in no chain. */
function* whereaboutsOf({ known: { chain, upTo }, facts }: Coordinates) {
  const rows = yield* ask({ ask: "kinds", chain, kinds: ["admitted", "moved"], upTo });
  const stations = rows.flatMap((row) => {
    const { body } = recordedOf(row);
    return body.kind === "admitted" || body.kind === "moved" ? [body] : [];
  });
  const { unit, bed = null } = stations.sort((a, b) => readInstant(a.at) - readInstant(b.at)).at(-1)!;
  return { unit, bed, dischargedAt: facts.dischargedAt };
}

function stayText(stay: Stay, zone: string) {
  const { encounter, unit, bed, admittedAt, dischargedAt } = stay;
  return {
    id: encounter,
    unit,
    ...(bed === null ? {} : { bed }),
    patient: patientText(stay),
    admittedAt: formatInstant(admittedAt, zone),
    ...(dischargedAt === null ? {} : { dischargedAt: formatInstant(dischargedAt, zone) }),
  };
}

function patientText({ patientIdentifier, patientName }: Stay) {
  return { identifier: patientIdentifier, ...(patientName === null ? {} : { name: patientName }) };
}

function weightText({ admissionWeight }: Pick<EncounterBody, "admissionWeight">) {
  return admissionWeight === undefined ? {} : { admissionWeight };
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
