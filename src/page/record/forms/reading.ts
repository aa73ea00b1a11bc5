/** Writing down what a device shows: each of its totals, first the one that was asked about, else the one with most to lose. */

import type { Posted, TotalName } from "../../api/shapes.js";
import type { Form } from "../form.js";
import { type Asking, channelNamed, volumeField } from "./asking.js";

export function readingForm(asking: Asking, channel: string, first: TotalName | null): Form {
  const { words, inTenths } = asking.speech;
  const totals = [...(channelNamed(asking, channel)?.totals ?? [])].sort(
    (a, b) => Number(b.total === first) - Number(a.total === first) || b.atRisk - a.atRisk,
  );
  return {
    title: words.record.titles.reading(channel),
    told: words.record.readOff,
    initial: {},
    timed: true,
    fields: () =>
      totals.map(({ total, expected, lastReading }, index) =>
        volumeField({
          key: total,
          label: words.toWrite.totals[total],
          hint: [
            `${words.toWrite.shouldShow} ${inTenths(expected)}`,
            lastReading === null ? "" : words.toWrite.last(inTenths(lastReading)),
          ]
            .filter(Boolean)
            .join(". "),
          zero: true,
          optional: index > 0,
        }),
      ),
    entries: (entered, at) => {
      const read = totals.flatMap(({ total }): Posted[] => {
        const volume = entered.number(total);
        return volume === null ? [] : [{ kind: "total-read", at, channel, total, volume }];
      });
      return read.length === 0 ? null : read;
    },
  };
}
