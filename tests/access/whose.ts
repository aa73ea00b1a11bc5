/**
 * Whose time what was recorded is about, worked out as simply as can be from the rows of a chain: to hold the
 * service's own judgement against. Knows nothing of corrections but what they say themselves.
 */

import type { Row } from "../../src/store/store.js";
import { DAY } from "../../src/time/calendar.js";
import type { Json } from "../ledger/stay.js";

const told = (row: Row): Json => JSON.parse(row.text);

/** The unit a patient was in at an instant, as of some rows. */
export function unitAt(rows: readonly Row[], at: number): string {
  const stations = rows.filter(({ kind }) => kind === "admitted" || kind === "moved");
  const inOrder = stations.toSorted((a, b) => a.at! - b.at! || a.sequence - b.sequence);
  return told(inOrder.findLast((row) => row.at! <= at) ?? inOrder[0]!).body.unit;
}

/** When somebody other than a caller charted or signed for last, of what is later than an instant. */
function othersAfter(rows: readonly Row[], at: number, until: number, caller: string): number[] {
  const voided = new Set(
    rows.filter(({ kind }) => kind === "entry-voided").map((row) => told(row).body.entry),
  );
  return rows
    .filter((row) => !["admitted", "moved", "discharged", "settings-changed"].includes(row.kind))
    .filter((row) => !["finding-acknowledged", "chart-posted", "entry-voided"].includes(row.kind))
    .filter((row) => row.at !== null && at < row.at && row.at < until && !voided.has(row.id))
    .filter((row) => told(row).by.id !== caller && told(row).source === "person")
    .map((row) => row.at!);
}

/**
 * What was recorded by a caller of one unit that is not theirs to record, in words; `before` are the rows there were,
 * `after` all of them now. In an emergency everything may be charted, and nobody moved but who has come.
 */
export function notTheirs(
  before: readonly Row[],
  after: readonly Row[],
  caller: { readonly id: string; readonly unit: string; readonly inEmergency: boolean },
  now: number,
): string[] {
  return after.slice(before.length).flatMap((row) => {
    const { body } = told(row);
    if (row.kind === "moved" || row.kind === "discharged") {
      const at = row.at!;
      if (unitAt(before, at) === caller.unit) return [];
      const next = before.filter((one) => one.kind === "moved" && one.at! > at).map((one) => one.at!);
      const others = othersAfter(before, at, Math.min(now + 1, ...next), caller.id);
      const arrives = row.kind === "moved" && body.unit === caller.unit && others.length === 0;
      return arrives ? [] : [`${row.kind} at ${new Date(at).toISOString()} over another unit's time`];
    }
    const acts = ["finding-acknowledged", "chart-posted", "settings-changed"];
    if (caller.inEmergency || acts.includes(row.kind) || row.at === null) return [];
    const at = row.kind === "shift-signed" ? row.at - 1 : row.at;
    const theirs = unitAt(before, at) === caller.unit;
    const left = before.filter((one) => one.kind === "moved").map((one) => one.at!);
    const late = unitAt(before, now) !== caller.unit && now - Math.max(...left) >= DAY;
    return theirs && !late ? [] : [`${row.kind} at ${new Date(row.at).toISOString()}, another unit's time`];
  });
}
