/** The sheet for whoever takes over: what runs, what must be read, what is open, how much came and went, what is in doubt. */

import { lostAndWeighed } from "../shift/besides.js";
import { duration } from "../words/numbers.js";
import { conventionsOf } from "./conventions.js";
import { besideTheTotals, doubtsOf, inexact } from "./doubts.js";
import { footOf, identityOf } from "./identity.js";
import { openOf } from "./open.js";
import { runningOf, toReadOf } from "./running.js";
import { type Block, type Fact, heading, type Line, line, type Sheet } from "./sheet.js";
import { signaturesOf } from "./signed.js";
import { type Source, sure } from "./source.js";

const HOUR = 3_600_000;

export function handoverOf(source: Source): Sheet {
  const { words, speech } = source;
  return {
    kind: "handover",
    title: words.titles.handover,
    language: speech.language,
    landscape: false,
    identity: identityOf(source),
    foot: footOf(source),
    blocks: [
      ...runningOf(source),
      ...toReadOf(source),
      ...openOf(source),
      ...balanceOf(source),
      ...doubtsOf(source),
      ...conventionsOf(source),
      ...signaturesOf(source),
      { kind: "room", label: words.notes, lines: 3 },
      { kind: "signing", fields: [words.handedOver, words.takenOver, words.dateAndTime] },
    ],
  };
}

/** The sums of the shift and since admission, and urine per weight. */
function balanceOf(source: Source): Block[] {
  const { sheet, speech } = source;
  const { balance } = sheet.shift;
  const { volume } = speech;
  const last = balance.cumulative.findLastIndex((value) => value !== null);
  const fact = (name: string, text: string): Fact => ({ name, value: line(text, { strong: true }) });
  const facts = [
    fact(
      speech.words.balance.intake,
      sure(volume(balance.intake.total), balance.intake.totalCertainty, speech),
    ),
    fact(
      speech.words.balance.output,
      sure(volume(balance.output.total), balance.output.totalCertainty, speech),
    ),
    fact(speech.words.balance.net, sure(volume(balance.netTotal), balance.netTotalCertainty, speech)),
    broughtForward(source),
    ...(last === -1
      ? []
      : [
          fact(
            speech.words.balance.sinceAdmission,
            sure(volume(balance.cumulative[last] ?? 0), balance.cumulativeCertainty[last] ?? "exact", speech),
          ),
        ]),
  ];
  const lines = [...inexact(source), ...urineOf(source), ...weighedOf(source), ...besideTheTotals(source)];
  return [
    heading(speech.words.balance.heading),
    { kind: "facts", facts },
    ...(lines.length === 0 ? [] : [{ kind: "sentences", lines } as const]),
  ];
}

/** What every sum since admission begins with. */
export function broughtForward({ sheet, speech, words }: Source): Fact {
  const { broughtForward: volume, broughtForwardCertainty } = sheet.shift.balance;
  const text = sure(speech.volume(volume), broughtForwardCertainty, speech);
  return { name: words.broughtForward, value: line(text, { strong: true }) };
}

/** Urine over the windows that the service judges, per weight where it can be; a reason they share is said once. */
function urineOf({ sheet, speech }: Source): Line[] {
  const { urine } = sheet.shift.balance;
  const { words, inTenths, figure } = speech;
  const reasons = [...new Set(urine.map(({ why }) => why))];
  const shared = urine.length > 1 && reasons.length === 1 ? reasons[0] : undefined;
  const windows = urine.flatMap(({ hours, volume, mLPerKgPerHour, why }, index): Line => {
    const perWeight = mLPerKgPerHour === null ? null : figure(mLPerKgPerHour);
    const judged =
      perWeight === null
        ? { text: why ?? "", english: true }
        : { text: `${perWeight}\u00a0${words.balance.perWeight}`, whole: true };
    return [
      { text: `${index === 0 ? "" : "; "}${words.balance.lastHours(duration(hours * HOUR))} ` },
      { text: inTenths(volume), strong: true },
      ...(shared === undefined ? [{ text: " (" }, judged, { text: ")" }] : []),
    ];
  });
  const after = shared === undefined ? [] : [{ text: ` ${shared}`, english: true }];
  return urine.length === 0
    ? []
    : [[{ text: `${words.balance.urine}: ` }, ...windows, { text: "." }, ...after]];
}

/** What was lost, and how the weight changed, in one line. */
export function weighedOf({ sheet, speech }: Source): Line[] {
  const sentences = lostAndWeighed(sheet.shift, speech).map((text) => text.replace(/\.$/, ""));
  return sentences.length === 0 ? [] : [line(`${sentences.join("; ")}.`)];
}
