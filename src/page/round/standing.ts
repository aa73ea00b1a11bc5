/**
 * What is at stake with each patient of a shift, and the order that follows from it: a question that waits, then
 * volume nobody wrote down, time nobody knows, what is to be looked at, time not signed, and the bed last.
 */

import type { AuditedEncounter, Encounter, Finding, ShiftFigures } from "../api/shapes.js";

/** One patient's part of a shift on the round. */
export interface RoundRow {
  readonly audited: AuditedEncounter;
  /** Absent for a stay the unit's list does not have. */
  readonly stay: Encounter | undefined;
  /** Null while it is asked for, or where it cannot be had. */
  readonly shift: ShiftFigures | null;
  /** In mL: what devices counted and nobody wrote down. */
  readonly unwritten: number;
  /** Whether more than that may be unwritten. */
  readonly atLeast: boolean;
  /** What is open, the gravest first. */
  readonly open: readonly Finding[];
}

const GRAVITY: Readonly<Record<Finding["severity"], number>> = { question: 0, attention: 1, note: 2 };

export function rowOf(
  audited: AuditedEncounter,
  stay: Encounter | undefined,
  shift: ShiftFigures | null,
): RoundRow {
  const totals = shift?.totals.channels.flatMap((channel) => channel.totals) ?? [];
  const open = (shift?.findings ?? [])
    .filter(({ state }) => state === "open")
    .sort((a, b) => GRAVITY[a.severity] - GRAVITY[b.severity]);
  // Running totals are computed to the microlitre, so that the sum is exact again once rounded to it.
  const unwritten = Math.round(totals.reduce((sum, { atRisk }) => sum + atRisk, 0) * 1000) / 1000;
  return { audited, stay, shift, unwritten, atLeast: totals.some(({ atLeast }) => atLeast), open };
}

/** The rows, what is most at stake first. */
export function byStake(rows: readonly RoundRow[]): RoundRow[] {
  return [...rows].sort((a, b) => {
    const [left, right] = [stakeOf(a), stakeOf(b)];
    const decides = left.findIndex((stake, index) => stake !== right[index]);
    return decides < 0 ? byBed(a, b) : right[decides]! - left[decides]!;
  });
}

export function byBed(a: RoundRow, b: RoundRow): number {
  const bed = ({ stay, audited }: RoundRow) => stay?.bed ?? `\uffff${audited.encounter}`;
  return bed(a).localeCompare(bed(b), "en", { numeric: true });
}

/** The most decisive first; more is more at stake. */
function stakeOf({ unwritten, atLeast, open, audited: { values } }: RoundRow): number[] {
  const count = (severity: Finding["severity"]) => open.filter((one) => one.severity === severity).length;
  return [
    count("question"),
    unwritten,
    Number(atLeast),
    values["unknown-minutes"] ?? 0,
    count("attention"),
    values["unsigned-minutes"] ?? 0,
  ];
}

/** How often each code is open, in the order given: "2 shifts not signed" is one thing to read. */
export function countedByCode(open: readonly Finding[]): [code: Finding["code"], times: number][] {
  const counts = new Map<Finding["code"], number>();
  for (const { code } of open) counts.set(code, (counts.get(code) ?? 0) + 1);
  return [...counts];
}
