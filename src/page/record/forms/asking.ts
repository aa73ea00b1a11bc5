/** What forms are made from: the shift that is shown, and how the page speaks. */

import type { ChannelTotals, Settings } from "../../api/shapes.js";
import type { ShiftSheet } from "../../api/sheet.js";
import type { Speech } from "../../words/speech.js";
import { RATE, VOLUME } from "../../words/typed.js";
import type { NumberAsked } from "../form.js";

export interface Asking {
  readonly sheet: ShiftSheet;
  readonly speech: Speech;
  readonly settings: Settings | null;
}

/** A channel as it stands at the end of what is shown; undefined where it is not there. */
export function channelNamed({ sheet }: Asking, channel: string): ChannelTotals | undefined {
  return sheet.shift.totals.channels.find((one) => one.channel === channel);
}

type Named = Pick<NumberAsked, "key" | "label"> & Partial<Pick<NumberAsked, "hint" | "optional" | "zero">>;

export function volumeField(field: Named): NumberAsked {
  return { is: "number", unit: "mL", limits: VOLUME, zero: false, ...field };
}

export function rateField(field: Named): NumberAsked {
  return { is: "number", unit: "mL/h", limits: RATE, zero: false, ...field };
}
