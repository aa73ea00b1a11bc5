/** What hangs: a bag for the primary, or a secondary with its bag or out of the primary's. */

import type { Posted } from "../../api/shapes.js";
import type { Field, Form } from "../form.js";
import { type Asking, channelNamed, rateField, volumeField } from "./asking.js";
import { chosenFluid, FLUSH, fluidFields, fluidsKnown } from "./fluids.js";

export function bagForm(asking: Asking, channel: string): Form {
  const { words } = asking.speech;
  const starts = channelNamed(asking, channel)?.delivering === "nothing";
  const fluids = fluidsKnown(asking, "primary");
  return {
    title: words.record.titles.bag(channel),
    initial: {},
    timed: true,
    fields: (values) => [
      ...fluidFields(asking, fluids, values, false),
      volumeField({ key: "volume", label: words.record.labelled }),
      ...(starts
        ? [
            rateField({
              key: "rate",
              label: words.record.startAt,
              optional: true,
              hint: words.record.onlyHung,
            }),
          ]
        : []),
    ],
    entries: (entered, at) => {
      const [volume, rate] = [entered.number("volume"), entered.number("rate")];
      const fluid = chosenFluid(fluids, entered, asking.speech);
      if (volume === null || fluid === null) return null;
      const hung = { at, channel, volume, ...fluid, bag: bagKey(asking, fluid.fluid.name) };
      const started: Posted[] = rate === null ? [] : [{ kind: "flow-started", at, channel, rate }];
      return [{ kind: "bag-hung", role: "primary", ...hung } as Posted, ...started];
    },
  };
}

export function secondaryForm(asking: Asking, channel: string): Form {
  const { words } = asking.speech;
  const fluids = fluidsKnown(asking, "secondary");
  const askAbove = asking.settings?.askClampedAbove ?? 300;
  const clamped: Field = {
    is: "choice",
    key: "clamped",
    label: words.record.clamped,
    options: (["yes", "no"] as const).map((value) => ({ value, label: words.record.answers[value] })),
  };
  return {
    title: words.record.titles.secondary(channel),
    initial: {},
    timed: true,
    fields: (values) => [
      ...fluidFields(asking, fluids, values, true),
      volumeField({ key: "volume", label: words.record.volume }),
      rateField({ key: "rate", label: words.record.rate }),
      // Both may flow where a fast secondary leaves the primary's line open.
      ...(Number((values.rate ?? "").replace(",", ".")) > askAbove ? [clamped] : []),
    ],
    entries: (entered, at) => {
      const [volume, rate] = [entered.number("volume"), entered.number("rate")];
      if (volume === null || rate === null) return null;
      const seen = entered.text("clamped");
      const started: Posted = {
        ...{ kind: "secondary-started", at, channel, rate, volumeToInfuse: volume },
        ...(seen === "" ? {} : { primaryClamped: seen === "yes" }),
      };
      if (entered.text("fluid") === FLUSH) return [started];
      const fluid = chosenFluid(fluids, entered, asking.speech);
      if (fluid === null) return null;
      const hung = { at, channel, volume, ...fluid, bag: bagKey(asking, fluid.fluid.name) };
      return [{ kind: "bag-hung", role: "secondary", ...hung } as Posted, started];
    },
  };
}

/** A short key of a bag: the first word of its fluid, and a number that no bag of this stay has. */
export function bagKey({ sheet }: Asking, fluid: string): string {
  const word = fluid
    .normalize("NFD")
    .toLowerCase()
    .match(/[a-z]{3,}/)?.[0];
  const taken = new Set(sheet.hangings.map(({ bag }) => bag));
  let number = 1;
  while (taken.has(`${word ?? "bag"}-${number}`)) number += 1;
  return `${word ?? "bag"}-${number}`;
}
