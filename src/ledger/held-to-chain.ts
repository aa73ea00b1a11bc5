/**
 * What the directory, or the head of a bundle, says of a stay, held to the stay's chain: whom it is of, when it
 * began and ended, and in which unit the patient is. The bed is not held: one that was changed by itself
 * stands in no entry.
 */

import type { Row, Stay } from "../store/store.js";
import type { AdmittedText } from "../wire/stored.js";
import { recordedOf } from "./families.js";
import { patientDigest } from "./patient.js";
import { canonical } from "./record.js";
import { type StayFacts, stayFactsOf } from "./stay.js";

const KINDS: ReadonlySet<string> = new Set(["admitted", "moved", "discharged"]);

/** Of a chain's rows those that say something of its stay: remembers them while all are read, in order. */
export class ToldByChain {
  readonly #rows: Row[] = [];
  readonly #sequences = new Set<number>();

  add(row: Row): void {
    if (!KINDS.has(row.kind) && (row.root === null || !this.#sequences.has(row.root))) return;
    this.#rows.push(row);
    this.#sequences.add(row.sequence);
  }

  /** The sequence of the last row of a kind; that of the chain's first where there is none. */
  lastOf(...kinds: readonly string[]): number {
    return this.#rows.findLast(({ kind }) => kinds.includes(kind))?.sequence ?? 1;
  }

  /** Undefined where the chain does not say that anybody was admitted. */
  facts(): StayFacts | undefined {
    return stayFactsOf(this.#rows);
  }

  /** The digest that the admission has of the patient; undefined of one that was recorded before it had any. */
  patient(): string | undefined {
    const admitted = this.#rows.find(({ kind }) => kind === "admitted");
    const body = admitted && recordedOf(admitted).body;
    return body?.kind === "admitted" ? body.patient : undefined;
  }
}

/** What somebody tells of a stay. */
export type ToldOfStay = Omit<Stay, "encounter" | "bed"> & {
  /** The weight on admission; absent where nothing is said of it. */
  readonly admissionWeight?: AdmittedText["weight"] | null;
};

export type Holding =
  /** Everything agrees; `patient` is whether the chain holds whom the stay is of. */
  | { readonly agrees: true; readonly patient: boolean }
  | { readonly agrees: false; readonly sequence: number; readonly why: string };

/** Holds what is told of a stay to its chain; `teller` is who tells it, such as "the directory". */
export function held(chain: ToldByChain, told: ToldOfStay, teller: string): Holding {
  try {
    return agreeing(chain, told, teller);
  } catch {
    // A chain that somebody made anew may say anything.
    return { agrees: false, sequence: 1, why: "what it says of the stay cannot be read" };
  }
}

function agreeing(chain: ToldByChain, told: ToldOfStay, teller: string): Holding {
  const not = (sequence: number, what: string): Holding => {
    return { agrees: false, sequence, why: `${teller} has another ${what} than it` };
  };
  const facts = chain.facts();
  if (facts === undefined) return { agrees: false, sequence: 1, why: "it does not begin with an admission" };
  if (told.admittedAt !== facts.admittedAt) return not(chain.lastOf("admitted"), "time of admission");
  const digest = chain.patient();
  if (digest !== patientDigest(told)) return not(chain.lastOf("admitted"), "patient");
  const weight = told.admissionWeight;
  if (weight !== undefined && canonical(weight) !== canonical(facts.admissionWeight ?? null)) {
    return not(chain.lastOf("admitted"), "weight on admission");
  }
  const last = facts.stations.toSorted((a, b) => a.from - b.from).at(-1)!;
  if (told.unit !== last.unit) return not(chain.lastOf("admitted", "moved"), "unit");
  if (told.dischargedAt !== facts.dischargedAt) {
    return not(chain.lastOf("discharged", "entry-voided"), "end of the stay");
  }
  return { agrees: true, patient: digest !== undefined };
}
