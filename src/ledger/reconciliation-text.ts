/** A reconciliation as JSON: volumes in mL, times in the unit's offset, and how sure the ledger's figures are. */

import type { Certainty } from "../balance/certainty.js";
import { isCertain } from "../balance/certainty.js";
import type { ChartFigure, RowName } from "../balance/charts/chart.js";
import { type LessBecause, lessBecause } from "../balance/charts/doubt.js";
import type { Cause } from "../balance/charts/explanation.js";
import type { Difference, Match, Reconciliation } from "../balance/charts/reconcile.js";
import type { Conventions } from "../conventions/dated.js";
import type { Settings } from "../conventions/settings.js";
import type { Instant, Period } from "../time/instant.js";
import { millilitres } from "../wire/quantity.js";
import { certaintyText, conventionsText } from "./balance-beside-text.js";
import type { ChartSide } from "./chart-side.js";

export interface Told {
  readonly tolerance: Settings["chartTolerance"];
  readonly notBegun: readonly ChartFigure[];
  readonly conventions: Conventions;
  readonly span: Period;
  readonly time: (instant: Instant) => string;
}

type Named = Period & { readonly row: RowName };

/** Null where no interval of the chart has begun. */
export function reconciliationText(made: Reconciliation | null, side: ChartSide | null, told: Told): object {
  const { tolerance, time, notBegun } = told;
  const named = ({ row, start, end }: Named) => ({ row, start: time(start), end: time(end) });
  const inLedger = ({ row, takenFor }: Match) => (takenFor === null ? row : { item: takenFor });
  const sure = (one: Match) => side!.certainty(inLedger(one), one);
  const less = (one: Match) => lessBecause(side!.doubts, inLedger(one), one);
  const compared = (one: Match) => ({
    ...named(one),
    charted: millilitres(one.charted),
    ledger: millilitres(one.ledger),
    certainty: certaintyText(sure(one)),
    takenFor: one.takenFor,
  });
  const differing = (one: Difference) => ({
    ...compared(one),
    difference: millilitres(one.difference),
    severity: severityOf(one.difference, tolerance),
    follows: one.follows.map(named),
    explanations: one.explanations.map(({ remaining, together, place, tied, hedged, ...cause }) => ({
      ...causeText(cause),
      remaining: millilitres(remaining),
      together: together.map(causeText),
      place,
      tied,
      hedged,
    })),
    sentence: `${one.sentence}${doubt(sure(one), less(one))}`,
  });
  return {
    tolerance: { note: millilitres(tolerance.note), attention: millilitres(tolerance.attention) },
    matches: made?.matches.map(compared) ?? [],
    differences: made?.differences.map(differing) ?? [],
    habits:
      made?.habits.map(({ kind, entries, figures, sentence }) => ({ kind, entries, figures, sentence })) ??
      [],
    notInUse:
      made?.notInUse.map((one) => ({
        ...named(one),
        charted: millilitres(one.charted),
        sentence: one.sentence,
      })) ?? [],
    notCharted:
      made?.notCharted.map((one) => ({
        ...named(one),
        ledger: millilitres(one.ledger),
        entries: one.entries,
        standsIn: one.standsIn,
      })) ?? [],
    notBegun: notBegun.map((one) => ({
      ...named(one),
      charted: one.volume === null ? null : millilitres(one.volume),
    })),
    conventions: conventionsText(told.conventions, told.span, time),
  };
}

/** How much a difference asks for, of one that is worth a note. */
export function severityOf(difference: number, { attention }: Settings["chartTolerance"]) {
  return Math.abs(difference) > attention ? "attention" : "note";
}

function causeText({ kind, entries, accountsFor, sentence }: Cause) {
  return { kind, entries, accountsFor: millilitres(accountsFor), sentence };
}

const LESS: Readonly<Record<LessBecause, string>> = {
  lost: "some of it may not have reached the patient",
  irrigant: "some of it may be irrigant that came back",
  "not-measured": "something came out that nobody measured",
};

/** What the ledger does not know itself may be all there is to a difference. */
function doubt(certainty: Certainty, less: ReadonlySet<LessBecause>): string {
  if (isCertain(certainty)) return "";
  if (!certainty.less)
    return " The ledger's figure is at least this: something in it nobody measured or knows.";
  if (!certainty.more)
    return ` The ledger's figure is at most this: ${[...less].map((why) => LESS[why]).join(", and ")}.`;
  return " The ledger's figure is uncertain: something in it nobody measured or knows.";
}
