/** What came out: measured or only seen, and what a chamber holds that collects it. */

import type { Entry, Posted } from "../../api/shapes.js";
import type { Values } from "../draft.js";
import type { Entered, Field, Form } from "../form.js";
import { type Asking, volumeField } from "./asking.js";
import { categoryField, OUTPUT } from "./categories.js";

/** What may come by more than one way. */
const BY_SITE: ReadonlySet<string> = new Set(["drain", "chest-drain", "gastric", "urine"]);
/** Stands before the key of a chamber that was chosen. */
const CHAMBER = "chamber ";

export function outputForm(asking: Asking): Form {
  const { words } = asking.speech;
  return {
    title: words.record.titles.output,
    initial: { measured: "yes", emptied: "no" },
    timed: true,
    fields: (values) => [
      whatField(asking),
      ...(values.category?.startsWith(CHAMBER)
        ? chamberFields(asking, values)
        : amountFields(asking, values)),
    ],
    entries: (entered, at) =>
      entered.text("category").startsWith(CHAMBER) ? chamber(entered, at) : amount(entered, at),
  };
}

/** The categories, and before them the chambers there are, with what each held last. */
function whatField(asking: Asking): Field {
  const { sheet, speech } = asking;
  const { words, volume } = speech;
  const field = categoryField(asking, OUTPUT);
  const chambers = sheet.shift.totals.chambers.map(({ chamber: key, category, lastReading }) => ({
    value: `${CHAMBER}${key}`,
    label: `${words.categories[category]}, ${key}`,
    hint: lastReading === null ? words.kinds["chamber-emptied"] : words.toWrite.last(volume(lastReading)),
  }));
  return { ...field, options: [...chambers, ...field.options] };
}

function chamberFields({ speech: { words } }: Asking, values: Values): Field[] {
  const emptied: Field = {
    is: "choice",
    key: "emptied",
    label: words.record.emptied,
    options: (["no", "yes"] as const).map((value) => ({ value, label: words.record.emptiedAs[value] })),
  };
  // An emptying nobody read is recorded too, and asked about.
  const optional = values.emptied === "yes";
  return [volumeField({ key: "level", label: words.record.level, zero: true, optional }), emptied];
}

function chamber(entered: Entered, at: string): Posted[] | null {
  const key = entered.text("category").slice(CHAMBER.length);
  const level = entered.number("level");
  if (entered.text("emptied") === "yes") {
    return [{ kind: "chamber-emptied", at, chamber: key, ...(level === null ? {} : { level }) }];
  }
  return level === null ? null : [{ kind: "chamber-read", at, chamber: key, level }];
}

function amountFields({ sheet, speech: { words } }: Asking, values: Values): Field[] {
  const measured: Field = {
    is: "choice",
    key: "measured",
    label: words.record.measured,
    options: (["yes", "no"] as const).map((value) => ({ value, label: words.record.measuredAs[value] })),
  };
  const sites = sitesIn(sheet.entries);
  const site: Field = {
    ...{ is: "text", key: "site", label: words.record.site, optional: true },
    ...(sites.length === 0 ? {} : { hint: words.record.sitesSoFar(sites.join(", ")) }),
  };
  return [
    ...(values.measured === "no"
      ? []
      : [volumeField({ key: "volume", label: words.record.volume, zero: true })]),
    measured,
    ...(BY_SITE.has(values.category ?? "") ? [site] : []),
  ];
}

function amount(entered: Entered, at: string): Posted[] | null {
  const category = OUTPUT.find((one) => one === entered.text("category"));
  if (category === undefined) return null;
  const [volume, where] = [entered.number("volume"), entered.text("site")];
  const base = { kind: "output-measured", at, category, ...(where === "" ? {} : { site: where }) } as const;
  if (entered.text("measured") === "no") return [{ ...base, occurrences: 1 }];
  return volume === null ? null : [{ ...base, volume }];
}

function sitesIn(entries: readonly Entry[]): string[] {
  return [...new Set(entries.flatMap(({ site }) => (typeof site === "string" ? [site] : [])))];
}
