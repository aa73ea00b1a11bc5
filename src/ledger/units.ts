/** Units: opened, and changed from a date on; what changes is written into the chain of every stay it concerns. */

import { changeFaults } from "../conventions/change-faults.js";
import { ask, type Chain, type Inquiry, type Stay, type Write } from "../store/store.js";
import { type Instant, later } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import type { Fault } from "../wire/fault.js";
import { readInstant } from "../wire/instant.js";
import type { LedgerText } from "../wire/stored.js";
import type { UnitBody, UnitPatch } from "../wire/units.js";
import type { IdempotencyKey } from "./ledger.js";
import { AHEAD, type Answered, adding, nothing, type Page, type Request } from "./own-entries.js";
import { once } from "./recording.js";
import { done, type Outcome, refused } from "./refusal.js";
import { changeOf, stayFacts } from "./stay.js";
import { openedText, type UnitFacts, unitConventions, unitFacts, unitText } from "./unit.js";

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
    const units = from <= later(request.now, AHEAD) ? null : [unit];
    const stays: readonly Stay[] = yield* ask({
      ask: "stays",
      units,
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
  only: readonly string[] | null,
  after: string | null,
  limit: number,
  now: Instant,
): Inquiry<Page> {
  const ids =
    only === null
      ? yield* ask({ ask: "units", after, limit: limit + 1 })
      : only.filter((id) => after === null || id > after).sort();
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
