/**
 * A discharge taken back: the entry of it becomes void, by the ledger itself, and the stay goes on as if
 * it had not ended. What its unit has decided since for later than that concerns it now too.
 */

import { ask, type Chain, type Head, type Inquiry, type Row, type Write } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { readInstant } from "../wire/instant.js";
import { statesOf } from "./families.js";
import { addedTo, type Request } from "./own-entries.js";
import type { StayFacts } from "./stay.js";
import { unitFacts } from "./unit.js";

interface Undone {
  readonly writes: readonly Write[];
  /** The last row of the chain with it. */
  readonly last: Row;
}

/** Takes back the discharge of a stay that has ended. */
export function* dischargeUndone(
  chain: Chain,
  head: Head,
  facts: StayFacts,
  reason: string,
  request: Request,
): Inquiry<Undone> {
  const ended = facts.dischargedAt!;
  const rows = yield* ask({ ask: "kinds", chain, kinds: ["discharged"], upTo: head.sequence });
  const states = statesOf(rows);
  const { id, sequence } = rows.findLast(
    (row) => row.kind === "discharged" && states.get(row.sequence) === "current",
  )!;
  const made = { body: { kind: "entry-voided" as const, entry: id, reason }, root: sequence };
  const added = [addedTo(head, chain, made, request)];
  for (const body of yield* decidedSince(facts, ended)) {
    added.push(addedTo(added.at(-1)!.row, chain, { body }, request));
  }
  const last = added.at(-1)!.row;
  const stale: Write = {
    write: "end-checkpoints",
    chain,
    after: ended,
    before: null,
    validTo: added[0]!.row.sequence,
  };
  return { writes: [...added, stale], last };
}

/** The unit's changes for after the stay's end that it does not know of: those recorded after the discharge. */
function* decidedSince({ stations }: StayFacts, ended: Instant) {
  const station = stations.toSorted((a, b) => a.from - b.from).at(-1)!;
  const unit = yield* unitFacts(station.unit);
  const decided = unit!.changes.filter(
    ({ effectiveFrom, settings, shifts }) =>
      readInstant(effectiveFrom) >= ended && (settings !== undefined || shifts !== undefined),
  );
  const known = station.changes.filter(({ effectiveFrom }) => effectiveFrom >= ended);
  return decided.slice(known.length);
}
