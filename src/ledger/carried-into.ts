/** What a stay had taken in and put out before an instant: what a running figure has that one of the span has not. */

import type { Carried } from "../balance/charts/chart.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, type Period } from "../time/instant.js";
import type { Moment } from "./coordinates.js";
import { beginningOf, postedOver } from "./posted.js";

/** Of what counts in the totals, as it is shown; what stands outside the hours is in it, as in the balance. */
export function* carriedInto(at: Moment, span: Period, precision?: number): Inquiry<Carried> {
  const begins: Instant = earliest(beginningOf(at.facts), span.start);
  const asked = { intervals: [span], from: begins, since: begins, precision };
  const { postings } = yield* postedOver(at, asked);
  const sumOf = (wanted: "intake" | "output") =>
    postings
      .filter(({ side, interval, counts }) => side === wanted && interval === null && counts)
      .reduce((sum, { shown }) => sum + shown, 0);
  const [intake, output] = [sumOf("intake"), sumOf("output")];
  return { intake, output, net: intake - output };
}
