/** The unit's conventions in force over the shift, in sentences: without them a figure on paper cannot be checked. */

import type { Balance } from "../api/shapes.js";
import { together } from "../words/numbers.js";
import { type Block, type Line, line, section } from "./sheet.js";
import { type Source, whenOf } from "./source.js";

type Conventions = Balance["conventions"][number];

export function conventionsOf(source: Source): Block[] {
  const { conventions } = source.sheet.shift.balance;
  const several = conventions.length > 1;
  const lines = conventions.map((one): Line => {
    const held = source.words.heldFrom(whenOf(source, one.start), whenOf(source, one.end));
    return line(together([...(several ? [held] : []), ...sentencesOf(one, source)].join(" ")));
  });
  return section(source.words.conventions, lines);
}

function sentencesOf(one: Conventions, { speech, words }: Source): string[] {
  const { volume, figure } = speech;
  const list = (values: Readonly<Record<string, number>>, write: (value: number) => string) =>
    Object.entries(values)
      .map(([name, value]) => `${name} ${write(value)}`)
      .join(", ");
  const counts = (["bloodProducts", "flushes", "returned"] as const).map(
    (what) => words.counts[what][one.counts[what] ? 1 : 0] ?? "",
  );
  // What counts whole is no convention to be told.
  const partly = Object.entries(one.softFoods).filter(([, share]) => share < 1);
  const soft = list(Object.fromEntries(partly), figure);
  const household = list(one.household, volume);
  return [
    words.rounded(volume(one.precision)),
    words.boundary[one.boundary],
    ...counts,
    words.never,
    words.ice(figure(one.iceFraction)),
    ...(soft === "" ? [] : [words.soft(soft)]),
    words.weighed,
    ...(household === "" ? [] : [words.household(household)]),
  ];
}
