/** What is open: each finding with the one act that settles it, and room to say that it was done. */

import type { Finding } from "../api/shapes.js";
import { together } from "../words/numbers.js";
import { type Block, cell, heading, line, type Row } from "./sheet.js";
import { type Source, whenOf } from "./source.js";

const SEVERITIES: readonly Finding["severity"][] = ["question", "attention", "note"];

export function openOf(source: Source): Block[] {
  const { sheet, speech, words } = source;
  const { findings } = sheet.shift;
  // The answer has them by volume within a severity already; what somebody looked at is said last.
  const open = SEVERITIES.flatMap((severity) =>
    findings.filter((finding) => finding.severity === severity && finding.state === "open"),
  );
  const looked = findings.filter(({ state }) => state === "acknowledged");
  const rows = [...open, ...looked].map((finding) => findingRow(finding, source));
  if (rows.length === 0) {
    return [heading(speech.words.open.heading), { kind: "sentences", lines: [line(speech.words.open.none)] }];
  }
  const columns = [
    { head: cell(words.what), share: 4, holds: "text" as const },
    { head: cell(words.act), share: 10, holds: "text" as const },
    { head: cell(words.done), share: 2.5, holds: "text" as const },
  ];
  return [
    heading(speech.words.open.heading),
    { kind: "table", caption: speech.words.open.heading, columns, rows },
  ];
}

function findingRow(finding: Finding, source: Source): Row {
  const { words } = source.speech;
  const { code, severity, sentence, settledBy, acknowledged, concerns } = finding;
  const since = concerns.start === undefined ? undefined : whenOf(source, concerns.start);
  const where = [words.open.severities[severity], concerns.channel, since].filter(Boolean).join(", ");
  const [first] = settledBy;
  return {
    sum: false,
    cells: [
      [line(words.findings[code], { strong: true }), line(where)],
      [
        line(together(sentence), { english: true }),
        ...(first === undefined || acknowledged !== undefined
          ? []
          : [
              [
                { text: `${words.open.settledBy}: ` },
                { text: together(first.text), english: true, strong: true },
              ],
            ]),
        ...(acknowledged === undefined ? [] : [line(words.open.acknowledged(acknowledged.by.name))]),
      ],
      [],
    ],
  };
}
