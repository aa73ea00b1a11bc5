/**
 * The same thing charted twice: in two requests within minutes, by two people or by one twice; or once by itself
 * and once more in the sum of a period. Of like things what was sent together was seen together, such as a flush
 * before a drug and one after; a sum and what it is of are as often copied together from one sheet.
 */

import { beginningIn } from "../../infusion/cuts.js";
import type { IntakeMeasured, OutputMeasured } from "../../infusion/entry.js";
import { lesser, NOTHING, plus, type Volume, volumeOf } from "../../infusion/quantity.js";
import { later } from "../../time/instant.js";
import { APART, alike, CHARTED_TWICE, type ChartedTwice, canBeTwice } from "../alike.js";
import type { Evidence, Found, Reported, Rule } from "../finding.js";
import { withoutEffect } from "../trace.js";

export const possibleDuplicate: Rule = {
  code: "possible-duplicate",
  runs: "recording",
  find: (evidence) => {
    const nothing = withoutEffect(evidence.collected);
    const charted = evidence.entries.filter(
      ({ placed }) => placed.source === "person" && canBeTwice(placed.entry) && !nothing.has(placed.id),
    );
    return charted.flatMap((one, place) => {
      const twin = near(charted, place).find((other) => isEarlierTwin(other, one, evidence));
      if (twin !== undefined) return [found(one, twin, evidence)];
      const parts = partsOf(one, charted);
      return parts.length === 0 ? [] : [foundInSum(one, parts, evidence)];
    });
  },
};

/** What was charted within minutes of an entry, on either side; entries come in order of time. */
function near(charted: readonly Reported[], place: number): Reported[] {
  const { at } = charted[place]!.placed.entry;
  const within = ({ placed }: Reported) => Math.abs(placed.entry.at - at) <= APART;
  let [first, last] = [place, place];
  while (first > 0 && within(charted[first - 1]!)) first--;
  while (last + 1 < charted.length && within(charted[last + 1]!)) last++;
  return charted.slice(first, last + 1);
}

/** Of two that are alike the later recorded one is the duplicate. */
function isEarlierTwin(earlier: Reported, one: Reported, evidence: Evidence): boolean {
  if (earlier.placed.sequence >= one.placed.sequence || together(earlier, one)) return false;
  return alike(earlier.placed.entry, one.placed.entry, evidence);
}

function together(a: Reported, b: Reported): boolean {
  return a.recordedAt === b.recordedAt && a.by === b.by;
}

/** What was charted by itself of what a sum over a period may hold: none of it more than the sum. */
function partsOf(sum: Reported, charted: readonly Reported[]): Reported[] {
  const whole = sum.placed.entry;
  if (!isMeasured(whole) || whole.from === undefined || !whole.volume) return [];
  const period = { from: later(whole.from, 1), to: later(whole.at, 1) };
  return beginningIn(charted, period, ({ placed }) => placed.entry.at).filter((one) =>
    isPart(one.placed.entry, whole),
  );
}

type Measured = IntakeMeasured | OutputMeasured;

function isMeasured(entry: Reported["placed"]["entry"]): entry is Measured {
  return entry.kind === "intake-measured" || entry.kind === "output-measured";
}

function isPart(one: Reported["placed"]["entry"], whole: Measured): boolean {
  if (!isMeasured(one) || one.category !== whole.category || !one.volume) return false;
  const isShorter = one.from === undefined || one.from > whole.from! || one.at < whole.at;
  const isInside = one.from === undefined || one.from >= whole.from!;
  return isShorter && isInside && one.volume <= whole.volume! && sameWay(one, whole);
}

function sameWay(one: Measured, whole: Measured): boolean {
  if (one.kind === "output-measured") return whole.kind === one.kind && one.site === whole.site;
  if (whole.kind !== one.kind || one.line !== whole.line) return false;
  return whole.item === undefined || one.item === whole.item;
}

function found(one: Reported, twin: Reported, { words }: Evidence): Found {
  const entry = one.placed.entry as ChartedTwice;
  const volume = amountOf(entry);
  const of = volume === null ? "" : ` of ${words.volume(volume)}`;
  return {
    code: "possible-duplicate",
    severity: "attention",
    subject: one.placed.id,
    channel: "channel" in entry ? entry.channel : null,
    start: entry.at,
    entries: [one.placed.id, twin.placed.id],
    volume,
    sentence:
      `The same ${CHARTED_TWICE[entry.kind]}${of}${where(entry)} was charted twice, at ` +
      `${words.time(twin.placed.entry.at)} and at ${words.time(entry.at)}.`,
    settledBy: [
      {
        text: "A void of the second, if it was one and the same.",
        proposals: [{ do: "void", target: one.placed.id, reason: "charted twice" }],
      },
    ],
  };
}

function foundInSum(sum: Reported, parts: readonly Reported[], { words }: Evidence): Found {
  const entry = sum.placed.entry as Measured;
  const whole = volumeOf(entry.volume!);
  const alone = parts
    .map(({ placed }) => amountOf(placed.entry as Measured) ?? NOTHING)
    .reduce(plus, NOTHING);
  const times = parts.map(({ placed }) => words.time(placed.entry.at)).join(", ");
  const voided = (ids: readonly Reported[]) =>
    ids.map(({ placed }) => ({ do: "void" as const, target: placed.id, reason: "charted twice" }));
  return {
    code: "possible-duplicate",
    severity: "attention",
    subject: sum.placed.id,
    channel: null,
    start: entry.from!,
    end: entry.at,
    entries: [sum.placed.id, ...parts.map(({ placed }) => placed.id)],
    volume: lesser(alone, whole),
    sentence:
      `The ${CHARTED_TWICE[entry.kind]} of ${words.volume(whole)}${where(entry)} from ${words.time(entry.from!)} to ` +
      `${words.time(entry.at)} may hold what was charted by itself as well: ${words.volume(alone)} at ${times}.`,
    settledBy: [
      { text: "A void of what the sum holds.", proposals: voided(parts) },
      { text: "A void of the sum, if it holds nothing else.", proposals: voided([sum]) },
    ],
  };
}

function amountOf(entry: ChartedTwice): Volume | null {
  const volume = entry.kind === "chamber-emptied" ? entry.level : entry.volume;
  return volume === undefined ? null : volumeOf(volume);
}

/** Where it ran, went in or came from. */
function where(entry: ChartedTwice): string {
  switch (entry.kind) {
    case "bolus-started":
    case "bag-hung":
      return ` on ${entry.channel}`;
    case "irrigant-instilled":
      return ` into ${entry.site}`;
    case "chamber-emptied":
      return ` from ${entry.chamber}`;
    case "output-measured":
      return entry.site === undefined ? ` (${entry.category.replace("-", " ")})` : ` from ${entry.site}`;
    case "intake-measured":
      return "";
    default:
      return entry satisfies never;
  }
}
