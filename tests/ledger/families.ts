/**
 * What counts among entries and their corrections, told naively: every entry is looked
 * at by itself, and whether a void holds is asked of the voids of it, over and over. Shares nothing with
 * the ledger.
 */

export interface Act {
  readonly id: string;
  /** The entry it corrects; none for an original. */
  readonly corrects: string | null;
  readonly what: "fact" | "amendment" | "void";
  /** What an original or an amendment says: a volume. */
  readonly says: number;
}

/** Whether no void that holds names the act. */
function holds(act: Act, acts: readonly Act[]): boolean {
  return !acts.some((other) => other.what === "void" && other.corrects === act.id && holds(other, acts));
}

function originalOf(act: Act, acts: readonly Act[]): Act {
  return act.corrects === null ? act : originalOf(acts.find(({ id }) => id === act.corrects)!, acts);
}

/** The volume that counts of an original: the last amendment's that holds, else its own; null where it is void. */
export function counts(original: Act, acts: readonly Act[]): number | null {
  if (!holds(original, acts)) return null;
  const amendments = acts.filter(
    (act) => act.what === "amendment" && holds(act, acts) && originalOf(act, acts) === original,
  );
  return (amendments.at(-1) ?? original).says;
}

export function originals(acts: readonly Act[]): Act[] {
  return acts.filter(({ corrects }) => corrects === null);
}

/** What an act is shown as: void where it does not hold, amended where another one of its family counts instead. */
export function stateOf(act: Act, acts: readonly Act[]): "current" | "amended" | "voided" {
  if (!holds(act, acts)) return "voided";
  if (act.what === "void") return "current";
  const original = originalOf(act, acts);
  const amendments = acts.filter(
    (other) => other.what === "amendment" && holds(other, acts) && originalOf(other, acts) === original,
  );
  return holds(original, acts) && (amendments.at(-1) ?? original) === act ? "current" : "amended";
}
