/**
 * What is chosen stands in the address, so that reloading, going back and a bookmark all come to the
 * same sheet. The token never does.
 */

import type { Paper } from "./print/paper.js";
import type { PrintKind } from "./print/sheet.js";

/** What is shown of a unit or a stay; null for its list of patients, or the page of a shift. */
const VIEWS = ["round", "findings", "history", "changes", "chart"] as const;
export type ViewName = (typeof VIEWS)[number];

export interface Choice {
  readonly unit: string | null;
  /** Whether the list shows discharged patients too. */
  readonly discharged: boolean;
  readonly encounter: string | null;
  /** "2026-03-04/day"; null for the latest shift of the stay. */
  readonly shift: string | null;
  /** What of the shift is laid out to be printed; null for the shift itself. */
  readonly print: PrintKind | null;
  /** Null for the usual paper of where the browser is. */
  readonly paper: Paper | null;
  readonly view: ViewName | null;
  /** The instant as of which everything is shown; null for what is known now. */
  readonly asOf: string | null;
  /** The earlier of the two moments between which changes are shown. */
  readonly since: string | null;
  /** The entry whose history is open. */
  readonly entry: string | null;
}

/** No stay chosen, nor anything of one. */
export const NO_STAY = {
  encounter: null,
  shift: null,
  print: null,
  paper: null,
  view: null,
  asOf: null,
  since: null,
  entry: null,
};

/** Nothing chosen. */
export const NOTHING: Choice = { unit: null, discharged: false, ...NO_STAY };

export function choiceIn(search: string): Choice {
  const query = new URLSearchParams(search);
  return {
    unit: query.get("unit"),
    discharged: query.get("discharged") === "yes",
    encounter: query.get("encounter"),
    shift: query.get("shift"),
    print: among(["handover", "chart"], query.get("print")),
    paper: among(["a4", "letter"], query.get("paper")),
    view: among(VIEWS, query.get("view")),
    asOf: query.get("as-of"),
    since: query.get("since"),
    entry: query.get("entry"),
  };
}

/** The query of a choice, "" when nothing is chosen. */
export function addressOf(choice: Partial<Choice>): string {
  const query = new URLSearchParams();
  if (choice.unit) query.set("unit", choice.unit);
  if (choice.discharged) query.set("discharged", "yes");
  if (choice.encounter) query.set("encounter", choice.encounter);
  if (choice.shift) query.set("shift", choice.shift);
  if (choice.print) query.set("print", choice.print);
  if (choice.paper) query.set("paper", choice.paper);
  if (choice.view) query.set("view", choice.view);
  if (choice.asOf) query.set("as-of", choice.asOf);
  if (choice.since) query.set("since", choice.since);
  if (choice.entry) query.set("entry", choice.entry);
  const text = query.toString().replaceAll("%2F", "/").replaceAll("%3A", ":");
  return text === "" ? "" : `?${text}`;
}

/** The one of `known` that `text` is; null where it is none. */
function among<T extends string>(known: readonly T[], text: string | null): T | null {
  return known.find((one) => one === text) ?? null;
}
