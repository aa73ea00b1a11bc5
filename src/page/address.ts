/**
 * What is chosen stands in the address, so that reloading, going back and a bookmark all come to the
 * same sheet. The token never does.
 */

export interface Choice {
  readonly unit: string | null;
  /** Whether the list shows discharged patients too. */
  readonly discharged: boolean;
  readonly encounter: string | null;
  /** "2026-03-04/day"; null for the latest shift of the stay. */
  readonly shift: string | null;
}

export function choiceIn(search: string): Choice {
  const query = new URLSearchParams(search);
  return {
    unit: query.get("unit"),
    discharged: query.get("discharged") === "yes",
    encounter: query.get("encounter"),
    shift: query.get("shift"),
  };
}

/** The query of a choice, "" when nothing is chosen. */
export function addressOf(choice: Choice): string {
  const query = new URLSearchParams();
  if (choice.unit !== null) query.set("unit", choice.unit);
  if (choice.discharged) query.set("discharged", "yes");
  if (choice.encounter !== null) query.set("encounter", choice.encounter);
  if (choice.shift !== null) query.set("shift", choice.shift);
  const text = query.toString().replaceAll("%2F", "/");
  return text === "" ? "" : `?${text}`;
}
