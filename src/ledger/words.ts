/** How sentences say times, volumes and rates: by the clocks where the patient was, in the trade's units. */

import type { ChartWords } from "../balance/charts/chart.js";
import { stepOf } from "../conventions/settings.js";
import type { Words } from "../findings/finding.js";
import { shownAs } from "../infusion/quantity.js";
import { DAY } from "../time/calendar.js";
import { HOUR, type Instant, MINUTE } from "../time/instant.js";
import { clockLabel, localDate } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";

/** Volumes are said to a tenth of a millilitre, as devices show them. */
const SAID = stepOf(100);

/** The words of an answer given at `now`: times of another day carry their date. */
export function wordsAt(now: Instant, zoneAt: (at: Instant) => string): Words {
  // Asked of the calendar only if something is said at all.
  let today: string | undefined;
  return {
    time(at) {
      today ??= localDate(now, zoneAt(now));
      const zone = zoneAt(at);
      const date = localDate(at, zone);
      return date === today ? clockLabel(at, zone) : `${clockLabel(at, zone)} on ${date}`;
    },
    on: (at) => wordsAt(at, zoneAt),
    volume: (volume) => `${millilitres(shownAs(volume, SAID))} mL`,
    rate: (rate) => `${millilitres(rate)} mL/h`,
    duration(milliseconds) {
      const minutes = Math.round(milliseconds / MINUTE);
      const parts = [
        [Math.floor(minutes / (DAY / MINUTE)), "d"],
        [Math.floor((minutes % (DAY / MINUTE)) / (HOUR / MINUTE)), "h"],
        [minutes % (HOUR / MINUTE), "min"],
      ] as const;
      const said = parts.filter(([count]) => count > 0).map(([count, unit]) => `${count} ${unit}`);
      return said.length === 0 ? "0 min" : said.join(" ");
    },
  };
}

/** The same for a chart, whose volumes are said as they were written. */
export function chartWords({ time }: Words): ChartWords {
  return { time, volume: (volume) => `${millilitres(volume)} mL` };
}
