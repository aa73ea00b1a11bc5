/** A bolus out of the primary's bag: how much, and how fast. */

import type { Form } from "../form.js";
import { type Asking, rateField, volumeField } from "./asking.js";

export function bolusForm({ speech: { words } }: Asking, channel: string): Form {
  return {
    title: words.record.titles.bolus(channel),
    told: words.record.bolusIs,
    initial: {},
    timed: true,
    fields: () => [
      volumeField({ key: "volume", label: words.record.volume }),
      rateField({ key: "rate", label: words.record.rate }),
    ],
    entries: (entered, at) => {
      const [volume, rate] = [entered.number("volume"), entered.number("rate")];
      return volume === null || rate === null ? null : [{ kind: "bolus-started", at, channel, volume, rate }];
    },
  };
}
