/**
 * Carriers and flushes: volume that goes in beside what was meant to be given, and that charts leave out.
 */

import { countedIn, isUnder, isWithin, type LedgerItem } from "../../balance/charts/chart.js";
import type { Posting } from "../../balance/posting.js";
import type { Audited, ChartBeside } from "../audited.js";
import type { Measure } from "../measure.js";
import { NOTE } from "../tolerance.js";

/** A flush, what keeps a vein open, or the fluid in which a channel gives a drug. */
function carries(category: string | null, role: string | null | undefined): boolean {
  const given = role !== null && role !== undefined;
  return category === "iv-flush" || role === "keep-open" || (given && category === "iv-medication");
}

function carriers({ postings }: Audited): Posting[] {
  return postings.filter(
    ({ side, interval, category, part }) =>
      side === "intake" && interval !== null && carries(category, part.role),
  );
}

const sum = (postings: readonly Posting[]) => postings.reduce((all, { shown }) => all + shown, 0);

/** What a chart's largest figure lacks, where the carriers that count in it alone account for that. */
function leftOutOf({ figures, items }: ChartBeside): number {
  const lacking = figures.flatMap(({ row, start, end, difference }) => {
    const own = items.filter(
      (item) => isCarrier(item) && isUnder(row, item) && isWithin(item, { start, end }),
    );
    const volume = own.reduce((all, item) => all + countedIn(row, item), 0);
    return difference < -NOTE && Math.abs(difference + volume) <= NOTE ? [volume] : [];
  });
  return Math.max(0, ...lacking);
}

const isCarrier = ({ direction, category, role }: LedgerItem) =>
  direction === "intake" && carries(category, role);

const DEFINITION =
  "Flushes, what runs to keep a vein open, and the fluid in which channels give drugs, in the shift";

export const CARRIERS: readonly Measure[] = [
  {
    key: "carrier-volume",
    label: "Carriers and flushes",
    form: "volume",
    definition: `${DEFINITION}: how much that was.`,
    counting: "Of all encounters, those with any.",
    over: "sum",
    take: (audited) => sum(carriers(audited)),
  },
  {
    key: "carrier-uncounted",
    label: "Carriers and flushes outside the totals",
    form: "volume",
    definition: `${DEFINITION}: how much of that is in no total, because the unit has it so.`,
    counting: "Of all encounters, those with any.",
    over: "sum",
    take: (audited) => sum(carriers(audited).filter(({ counts }) => !counts)),
  },
  {
    key: "carrier-uncharted",
    label: "Carriers and flushes a chart leaves out",
    form: "volume",
    definition: `${DEFINITION}: how much a kept chart leaves out. It does where a figure lacks more than 10 mL and the carriers in it come to that within 10 mL; of several such figures of one chart the largest counts.`,
    counting: "Of the encounters with a kept chart of the shift, those of which it leaves some out.",
    over: "sum",
    take: ({ charts }) => {
      if (charts.every(({ figures }) => figures.length === 0)) return null;
      return charts.reduce((all, chart) => all + leftOutOf(chart), 0);
    },
  },
];
