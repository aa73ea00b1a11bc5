/** Which sheet is open: what is recorded of what. Its form is made of the shift that is shown. */

import type { Entry, Finding, TotalName } from "../api/shapes.js";
import type { ChannelAct } from "./acts.js";
import type { Form } from "./form.js";
import { amendForm } from "./forms/amend.js";
import { intakeForm, weightForm } from "./forms/amount.js";
import type { Asking } from "./forms/asking.js";
import { bagForm, secondaryForm } from "./forms/bag.js";
import { bolusForm } from "./forms/bolus.js";
import { connectForm } from "./forms/connect.js";
import { bareForm, pauseForm, rateForm, startForm } from "./forms/flow.js";
import { outputForm } from "./forms/output.js";
import { readingForm, readingsForm } from "./forms/reading.js";
import { readyForm, readyIn, type Settlement } from "./forms/ready.js";
import { resetForm } from "./forms/reset.js";
import { voidForm } from "./forms/void.js";

export type Opened =
  | { readonly act: ChannelAct; readonly channel: string; readonly total?: TotalName }
  | { readonly act: "readings" | "intake" | "output" | "weight" | "connect" }
  | { readonly act: "void"; readonly entries: readonly Entry[] }
  | { readonly act: "amend"; readonly entry: Entry }
  | { readonly act: "settle"; readonly finding: Finding; readonly settlement: Settlement };

/** What can be open besides: the acts of a channel, or the signature of a shift. */
export type Open =
  | Opened
  | { readonly act: "more"; readonly channel: string }
  | { readonly act: "sign"; readonly shift: string };

export function formOf(opened: Opened, asking: Asking): Form {
  switch (opened.act) {
    case "reading":
      return readingForm(asking, opened.channel, opened.total ?? null);
    case "readings":
      return readingsForm(asking);
    case "rate":
      return rateForm(asking, opened.channel);
    case "start":
      return startForm(asking, opened.channel);
    case "pause":
      return pauseForm(asking, opened.channel);
    case "bolus":
      return bolusForm(asking, opened.channel);
    case "secondary":
      return secondaryForm(asking, opened.channel);
    case "bag":
      return bagForm(asking, opened.channel);
    case "reset":
      return resetForm(asking, opened.channel);
    case "intake":
      return intakeForm(asking);
    case "output":
      return outputForm(asking);
    case "weight":
      return weightForm(asking);
    case "connect":
      return connectForm(asking);
    case "void":
      return voidForm(asking, opened.entries);
    case "amend":
      return amendForm(asking, opened.entry);
    case "settle": {
      const { finding, settlement } = opened;
      const ready = readyIn(settlement) ?? { entries: [], fill: [], instead: [] };
      return readyForm(asking, asking.speech.words.findings[finding.code], settlement.text, ready);
    }
    default:
      return bareForm(asking, opened.act, opened.channel);
  }
}
