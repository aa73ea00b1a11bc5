/** Totals against a kept chart: what another record holds of the shift, beside what the ledger has. */

import type { ComparedFigure } from "../../balance/charts/compared.js";
import type { Audited } from "../audited.js";
import type { Measure } from "../measure.js";
import { ATTENTION, NOTE } from "../tolerance.js";

const DEFINITION =
  "Every figure of a kept chart whose interval lies in the shift and has ended is held against the ledger's; of charts of one span the last counts";
const COUNTING = "Of the encounters with such a chart, those";

function charted({ charts }: Audited): readonly ComparedFigure[] {
  return charts.flatMap(({ figures }) => figures);
}

function furthest(audited: Audited): number | null {
  const figures = charted(audited);
  if (figures.length === 0) return null;
  return figures.reduce((most, { difference }) => Math.max(most, Math.abs(difference)), 0);
}

const within = (most: number) => (audited: Audited) => {
  const off = furthest(audited);
  return off === null ? null : off <= most;
};

export const CHARTED_TOTALS: readonly Measure[] = [
  {
    key: "charted-within-10",
    label: "Charted figures right within 10 mL",
    form: "yes-no",
    definition: `${DEFINITION}. None differs by more than 10 mL.`,
    counting: `${COUNTING} of which no figure does.`,
    over: null,
    take: within(NOTE),
  },
  {
    key: "charted-within-50",
    label: "Charted figures right within 50 mL",
    form: "yes-no",
    definition: `${DEFINITION}. None differs by more than 50 mL.`,
    counting: `${COUNTING} of which no figure does.`,
    over: null,
    take: within(ATTENTION),
  },
  {
    key: "charted-furthest",
    label: "Charted figure furthest off",
    form: "volume",
    definition: `${DEFINITION}: by how much the one differs that differs most.`,
    counting: `${COUNTING} of which a figure differs.`,
    over: "most",
    take: furthest,
  },
  {
    key: "charted-apart",
    label: "Charted figures off by more than 10 mL",
    form: "count",
    definition: `${DEFINITION}: how many differ by more than 10 mL.`,
    counting: `${COUNTING} with at least one.`,
    over: "sum",
    take: (audited) => {
      const figures = charted(audited);
      if (figures.length === 0) return null;
      return figures.filter(({ difference }) => Math.abs(difference) > NOTE).length;
    },
  },
];
