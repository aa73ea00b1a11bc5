/**
 * A person at the bedside of a stay: what they chart is asked about, and their answers are posted as the
 * ledger gave them, with what only the device can tell filled in. Nothing here computes anything.
 */

import type { FindingsQuery } from "../../src/ledger/findings.js";
import { done, type Json, type PostOptions, type Stay } from "./stay.js";
import { on, type Told } from "./telling.js";

/** A running total of pump-1 as it is written down, in mL. */
export const read = (clock: string, volume: number, more: Told = {}): Told =>
  on(clock, "total-read", { total: "primary", volume, ...more });

/** Somebody sets the totals of pump-1 to zero. */
export const reset = (clock: string, more: Told = {}): Told => on(clock, "totals-reset", more);

/** Posts as a person who can be asked. */
export function chart(stay: Stay, entries: readonly Told[], options: PostOptions = {}) {
  return stay.post(entries, { queued: false, ...options });
}

export interface Asked {
  readonly problem: string;
  readonly detail: string;
  readonly atRisk: Json[];
  readonly disagreements: Json[];
}

/** What a person is asked about entries; fails where there is no question. */
export async function asked(stay: Stay, entries: readonly Told[], options: PostOptions = {}): Promise<Asked> {
  const refusal = (await stay.refused(entries, { queued: false, ...options })) as Json;
  if (refusal.members === undefined) throw new Error(`refused otherwise: ${JSON.stringify(refusal)}`);
  const { problem, detail, members } = refusal;
  return { problem, detail, atRisk: members.atRisk ?? [], disagreements: members.disagreements ?? [] };
}

/**
 * The request with an answer in it. What is to be read off the device stands beside what was asked about,
 * and so does whatever explains a reading; what says the same entry otherwise stands in its place.
 */
export function answered(
  sent: readonly Told[],
  { entry }: { readonly entry: string },
  answer: {
    readonly entries: readonly Told[];
    readonly fill?: readonly string[];
    readonly instead: readonly string[];
  },
  shown = 0,
): Told[] {
  const fill = answer.fill ?? [];
  const entries = answer.entries.map((one, i) =>
    fill.includes(`/${i}/volume`) ? { ...one, volume: shown } : one,
  );
  const place = Number(entry.slice("#/entries/".length));
  const instead = answer.instead.includes(entry);
  return instead ? sent.flatMap((one, i) => (i === place ? entries : [one])) : [...entries, ...sent];
}

/**
 * Findings of a stay, such as "totals-lost attention open". That everything is charted late at 14:00, and that
 * nobody signs, is none of them.
 */
export async function found(stay: Stay, state: FindingsQuery["state"] = "open"): Promise<string[]> {
  return (await findings(stay, state)).map(told);
}

export async function findings(stay: Stay, state: FindingsQuery["state"] = "open"): Promise<Json[]> {
  const all: Json[] = (done(await stay.ledger.findings("stay-1", { state })) as Json).findings;
  return all.filter(({ code }) => code !== "late-entry" && code !== "shift-unsigned");
}

export function told({ code, severity, state }: Json): string {
  return `${code} ${severity} ${state}`;
}
