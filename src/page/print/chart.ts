/** The paper chart of a shift: the hours with their sums, what ran, what was charted late, and by which rules. */

import { lateAfterOf, marksOf } from "../picture/marks.js";
import { markSentence } from "../picture/sentences.js";
import { clockAmong, moment } from "../words/wall.js";
import { conventionsOf } from "./conventions.js";
import { besideTheTotals, doubtsOf, inexact } from "./doubts.js";
import { broughtForward, weighedOf } from "./handover.js";
import { hoursOf } from "./hours.js";
import { footOf, identityOf } from "./identity.js";
import { pictureOf } from "./picture.js";
import { type Block, cell, heading, line, type Row, type Sheet, section } from "./sheet.js";
import { signaturesOf } from "./signed.js";
import { type Source, whenOf } from "./source.js";

/** The default of the setting, for a unit that nobody knows. */
const LATE_AFTER = "PT2H";

export function chartOf(source: Source): Sheet {
  const { words, speech } = source;
  return {
    kind: "chart",
    title: words.titles.chart,
    language: speech.language,
    landscape: true,
    identity: identityOf(source),
    foot: footOf(source),
    blocks: [
      ...pictureOf(source),
      ...hoursOf(source),
      ...beside(source),
      ...ranOf(source),
      ...lateOf(source),
      ...doubtsOf(source),
      ...conventionsOf(source),
      ...signaturesOf(source),
      { kind: "room", label: words.notes, lines: 2 },
      { kind: "signing", fields: [words.charted, words.dateAndTime] },
    ],
  };
}

function beside(source: Source): Block[] {
  const { name, value } = broughtForward(source);
  const forward = [{ text: `${name}: ` }, ...value, { text: "." }];
  const lines = [forward, ...inexact(source), ...weighedOf(source), ...besideTheTotals(source)];
  return [{ kind: "sentences", lines }];
}

/** A row per flow: which fluid ran where, at which rate, and what it came to. */
function ranOf({ sheet, speech, words }: Source): Block[] {
  const { intervals, rows: lines } = sheet.shift.volumes;
  const order = new Map(lines.map(({ key }, index) => [key, index]));
  const place = (key: string | null) => order.get(key) ?? order.size;
  const flows = [...sheet.flows.flows].sort(
    (a, b) => place(a.line) - place(b.line) || moment(a.start) - moment(b.start),
  );
  if (flows.length === 0) return [];
  const rows = flows.map((flow): Row => {
    const label = lines.find(({ key }) => key === flow.line)?.label ?? flow.line;
    const rate = flow.rate === null ? speech.words.lines.rateUnknown : speech.rate(flow.rate);
    return {
      sum: false,
      cells: [
        cell(label ?? speech.words.lines.noLine),
        cell(flow.channel),
        cell(`${clockAmong(flow.start, intervals)}–${clockAmong(flow.end, intervals)}`),
        cell(`${flow.fluid?.name ?? speech.words.lines.unidentified}, ${speech.words.roles[flow.role]}`),
        cell(rate),
        cell(speech.inTenths(flow.delivered), { basis: flow.basis }),
      ],
    };
  });
  const columns = [
    { head: cell(words.line), share: 4, holds: "text" as const },
    { head: cell(words.channel), share: 2, holds: "text" as const },
    { head: cell(words.when), share: 2.4, holds: "text" as const },
    { head: cell(words.fluid), share: 6, holds: "text" as const },
    { head: cell(words.rate), share: 2, holds: "value" as const },
    { head: cell(words.volume), share: 2, holds: "value" as const },
  ];
  return [heading(words.ran), { kind: "table", caption: words.ran, columns, rows }];
}

/** What one person charted late in one go is one line: when it was recorded, then what happened when. */
function lateOf(source: Source): Block[] {
  const { sheet, unit, speech, words } = source;
  const telling = { speech, intervals: sheet.shift.volumes.intervals };
  const marks = marksOf(sheet.entries, lateAfterOf(unit?.settings.lateAfter ?? LATE_AFTER));
  const sittings = new Map<string, string[]>();
  for (const mark of marks.filter(({ late }) => late !== null)) {
    const { at, by } = mark.entry.recorded;
    const sitting = words.recorded(whenOf(source, at), by.name);
    const told = markSentence({ ...mark, late: null }, telling);
    sittings.set(sitting, [...(sittings.get(sitting) ?? []), told]);
  }
  const lines = [...sittings].map(([sitting, told]) => line(`${sitting} ${told.join("; ")}.`));
  return section(words.late, lines);
}
