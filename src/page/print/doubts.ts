/** What nobody knows of a shift and what nobody measured, in words: why a figure is only "at least". */

import { lanesOf } from "../picture/lanes.js";
import { categoryName, gapSentence } from "../picture/sentences.js";
import { notMeasured } from "../shift/besides.js";
import { duration } from "../words/numbers.js";
import { type Block, type Line, line, section } from "./sheet.js";
import { type Source, sure, whenOf } from "./source.js";

const MINUTE = 60_000;

export function doubtsOf(source: Source): Block[] {
  const { sheet, speech, words } = source;
  const found = [
    ...unknownMinutes(source),
    ...notMeasured(sheet.shift, speech),
    ...beforeTheShift(source),
    ...lostUnknown(source),
  ];
  return section(words.doubts, found.length === 0 ? [line(words.noDoubts)] : found.map((text) => line(text)));
}

/** What "at least" and its like mean, where any figure of the shift is not exact. */
export function inexact({ sheet, words }: Source): Line[] {
  const { intake, output, netTotalCertainty, netCertainty, ...rest } = sheet.shift.balance;
  const sides = [intake, output].flatMap((side) => [side.totalCertainty, ...side.certainty]);
  const nets = [
    netTotalCertainty,
    rest.broughtForwardCertainty,
    ...netCertainty,
    ...rest.cumulativeCertainty,
  ];
  const exact = [...sides, ...nets].every((certainty) => certainty === null || certainty === "exact");
  return exact ? [] : [line(words.whyNotExact)];
}

/** Per line the minutes that its figures say are not known, then the spans they lie in. */
function unknownMinutes({ sheet, speech, words }: Source): string[] {
  const { intervals, rows } = sheet.shift.volumes;
  const telling = { speech, intervals };
  const minutes = rows.flatMap(({ key, label, unknown }) => {
    const sum = unknown.reduce((a, b) => a + b, 0);
    const name = key === null ? speech.words.lines.noLine : label;
    return sum === 0 ? [] : [words.unknownMinutes(name, duration(sum * MINUTE))];
  });
  const spans = lanesOf(sheet.flows, sheet.shift.volumes).flatMap(({ gaps }) =>
    gaps.map((gap) => `${gap.channel}, ${gapSentence(gap, telling)}.`),
  );
  return [...minutes, ...spans];
}

function beforeTheShift({ sheet, speech, words }: Source): string[] {
  const { unmeasuredBefore, broughtForwardCertainty } = sheet.shift.balance;
  return [
    ...(unmeasuredBefore === 0 ? [] : [words.unmeasuredBefore(speech.words.balance.times(unmeasuredBefore))]),
    ...(broughtForwardCertainty === "exact" ? [] : [words.broughtForwardNotExact]),
  ];
}

function lostUnknown(source: Source): string[] {
  return source.sheet.shift.balance.lost
    .filter(({ volume }) => volume === null)
    .map(({ channel, start, end }) =>
      source.words.lostUnknown(channel, whenOf(source, start), whenOf(source, end)),
    );
}

/** What stands beside the totals: amounts of a time in no hour, rows in no total, irrigant. */
export function besideTheTotals(source: Source): Line[] {
  const { sheet, speech, words } = source;
  const { beside, intake, output, irrigation } = sheet.shift.balance;
  const { volume } = speech;
  const away = beside.map((one) => {
    const span = [one.start, one.end].flatMap((at) => (at === null ? [] : [whenOf(source, at)])).join("–");
    const name = [words.besides[one.when], one.place, span].filter((part) => part !== null && part !== "");
    const [came, went] = [one.intake, one.output].map((side) =>
      sure(volume(side.total), side.certainty, speech),
    );
    return words.beside(name.join(", "), came ?? "", went ?? "");
  });
  const apart = [...intake.apart, ...output.apart].map((row) =>
    words.apart(categoryName(row.key, speech), sure(volume(row.total), row.totalCertainty, speech)),
  );
  const sites = irrigation.map((site) =>
    words.irrigation(
      site.site,
      volume(site.instilled),
      volume(site.drained),
      sure(volume(site.trueOutput), site.certainty, speech),
      volume(site.retained),
    ),
  );
  return [...away, ...apart, ...sites].map((text) => line(text));
}
