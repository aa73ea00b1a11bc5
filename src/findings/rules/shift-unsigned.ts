/** A shift has been over for a while and nobody signed its figures, or not all of them. */

import { later, type Period } from "../../time/instant.js";
import { without } from "../../time/periods.js";
import type { Evidence, Found, Rule, ShiftEnd } from "../finding.js";

type Span = Omit<ShiftEnd, "state">;

/** Pieces of one shift that the patient spent in several units are one finding. */
export const shiftUnsigned: Rule = {
  code: "shift-unsigned",
  runs: "asking",
  find: (evidence) => {
    const due = [...evidence.shiftEnds, ...(evidence.leftIn === null ? [] : [evidence.leftIn])].filter(
      ({ end }) => evidence.until >= later(end, evidence.settingsAt(end).unsignedAfter),
    );
    const names = [...new Set(due.map(({ shift }) => shift))];
    return names.flatMap((name) =>
      found(
        name,
        due.filter(({ shift }) => shift === name),
        evidence,
      ),
    );
  },
};

function found(shift: string, pieces: readonly Span[], { signed, words }: Evidence): Found[] {
  const open = pieces.flatMap((piece) => without(piece, signed));
  const [first, last] = [open[0], open.at(-1)];
  if (first === undefined || last === undefined) return [];
  const { time } = words;
  const spans = open.map(({ start, end }) => `from ${time(start)} to ${time(end)}`).join(" and ");
  const isTail = open.length === 1 && pieces.some((piece) => isRestOf(first, piece));
  return [
    {
      code: "shift-unsigned",
      severity: "attention",
      subject: shift,
      channel: null,
      shift,
      start: first.start,
      end: last.end,
      entries: [],
      volume: null,
      sentence: isTail
        ? `The shift is signed up to ${time(first.start)}; nobody has signed its figures ${spans}.`
        : `Nobody has signed the figures of the shift ${spans}.`,
      settledBy: [{ text: "The signature of a nurse who has looked at the figures." }],
    },
  ];
}

function isRestOf(open: Period, piece: Period): boolean {
  return piece.start < open.start && open.end === piece.end;
}
