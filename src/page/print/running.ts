/** What runs into the patient with the bags it comes from, and what each device should show: for whoever takes over. */

import type { ChannelTotals, RunningTotal } from "../api/shapes.js";
import { categoryName } from "../picture/sentences.js";
import { doing } from "../shift/doing.js";
import { together } from "../words/numbers.js";
import { type Block, type Cell, type Column, cell, heading, line, type Row } from "./sheet.js";
import { type Source, whenOf } from "./source.js";

export function runningOf(source: Source): Block[] {
  const { sheet, speech, words } = source;
  const lines = speech.words.lines;
  const shown = sheet.shift.totals.channels.filter(({ connected, flow }) => connected || flow !== null);
  if (shown.length === 0) {
    return [heading(words.runs), { kind: "sentences", lines: [line(lines.none)] }];
  }
  const order = [...new Set(shown.map(({ line: key }) => key))];
  const rows = order.flatMap((key) => shown.filter((channel) => channel.line === key));
  const columns = [
    text(words.line, 3),
    text(words.channel, 2),
    text(words.does, 4),
    text(words.bag, 2.4),
    value(words.labelled, 1.8),
    value(words.delivered, 1.9),
    value(words.left, 1.7),
    value(words.emptyAbout, 1.6),
  ];
  return [
    heading(words.runs),
    { kind: "table", caption: words.runs, columns, rows: rows.map((channel) => runningRow(channel, source)) },
  ];
}

function runningRow(channel: ChannelTotals, source: Source): Row {
  const { sheet, speech } = source;
  const { words, inTenths, volume } = speech;
  const { flow } = channel;
  const hanging = sheet.hangings.findLast(({ bag }) => bag === flow?.bag);
  const fluid = (hanging?.fluid as { name?: string } | undefined)?.name ?? words.lines.unidentified;
  const delivered = sheet.bags?.rows.find(({ key }) => key === flow?.bag)?.total;
  const label = typeof hanging?.volume === "number" ? volume(hanging.volume) : "";
  const ends = flow !== null && flow.endsAt !== null && flow.endsAt !== flow.emptyAt;
  return {
    sum: false,
    cells: [
      cell(channel.lineLabel ?? words.lines.noLine),
      cell(channel.channel, { strong: true }),
      [
        line(together(doing(channel, fluid, speech))),
        ...(ends ? [line(`${words.lines.endsAt} ${whenOf(source, flow.endsAt ?? "")}`)] : []),
      ],
      flow === null ? [] : cell(flow.bag ?? words.lines.noBag),
      cell(label),
      cell(delivered === undefined || flow?.bag == null ? "" : inTenths(delivered)),
      cell(flow?.left == null ? "" : inTenths(flow.left)),
      cell(flow?.emptyAt == null ? "" : whenOf(source, flow.emptyAt)),
    ],
  };
}

/** The totals that count, the largest part that nobody has written down first, with room to write each down. */
export function toReadOf(source: Source): Block[] {
  const { sheet, speech, words } = source;
  const { at, channels, chambers } = sheet.shift.totals;
  const counters = channels
    .flatMap((channel) => channel.totals.map((total) => ({ channel, total })))
    .filter(({ total }) => total.expected > 0 || total.lastReading !== null || total.atLeast)
    .sort((a, b) => b.total.atRisk - a.total.atRisk);
  const collected = chambers.map(({ chamber, category, lastReading, since }) =>
    line(
      words.chamber(
        chamber,
        categoryName(category, speech),
        lastReading === null ? null : speech.inTenths(lastReading),
        whenOf(source, since),
      ),
    ),
  );
  if (counters.length + collected.length === 0) return [];
  const columns = [
    text(words.channel, 2),
    text(words.total, 2.2),
    value(words.shows, 1.8),
    value(words.written, 1.8),
    text(words.unwritten, 3),
    text(words.read, 2.6),
  ];
  const rows = counters.map(
    ({ channel, total }): Row => ({
      sum: false,
      cells: [
        cell(channel.channel, { strong: true }),
        cell(speech.words.toWrite.totals[total.total]),
        cell(speech.inTenths(total.expected), { strong: true }),
        cell(total.lastReading === null ? "–" : speech.inTenths(total.lastReading)),
        unwritten(total, source),
        [],
      ],
    }),
  );
  return [
    heading(words.readOff(whenOf(source, at))),
    ...(rows.length === 0
      ? []
      : [{ kind: "table", caption: words.readOff(whenOf(source, at)), columns, rows } as const]),
    ...(collected.length === 0 ? [] : [{ kind: "sentences", lines: collected } as const]),
  ];
}

function unwritten({ atRisk, atLeast, since, waiting }: RunningTotal, source: Source): Cell {
  const { speech, words } = source;
  const { inTenths } = speech;
  const risk = `${atLeast ? speech.words.certainty["at-least"] : ""} ${inTenths(atRisk)}`.trim();
  return [
    ...(atRisk > 0 || atLeast
      ? [[{ text: risk, strong: true }, { text: ` ${words.sinceThen(whenOf(source, since))}` }]]
      : [line(words.allWritten)]),
    ...(waiting === undefined ? [] : [line(words.waiting(inTenths(waiting.value)))]),
  ];
}

function text(head: string, share: number): Column {
  return { head: cell(head), share, holds: "text" };
}

function value(head: string, share: number): Column {
  return { head: cell(head), share, holds: "value" };
}
