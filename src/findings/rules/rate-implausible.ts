/**
 * A rate that looks like a slip of the hand: faster than pumps run, or exactly ten or a hundred times the
 * rate before it, or such a part of it. A reading that agrees afterwards shows that it was none.
 */

import type { Entry, EntryKind, Role } from "../../infusion/entry.js";
import type { Rate } from "../../infusion/quantity.js";
import { type Instant, later, MINUTE } from "../../time/instant.js";
import type { Evidence, Reported, Rule } from "../finding.js";
import { readingsOn } from "../lookup.js";
import { asSentence } from "../said.js";
import { withoutEffect } from "../trace.js";

/** In whole microlitres per hour. Infusion pumps go to about 1,200 mL/h (common practice). */
const FASTEST = 1_200_000;
const MORE = { 10: "ten times", 100: "a hundred times" } as const;
const LESS = { 10: "a tenth of", 100: "a hundredth of" } as const;
/** How long a rate must have run before a reading says anything of it. */
const RAN_FOR = 15 * MINUTE;

interface Programmed {
  readonly id: string;
  readonly kind: EntryKind;
  readonly channel: string;
  readonly role: Role;
  readonly rate: Rate;
  readonly at: Instant;
}

export const rateImplausible: Rule = {
  code: "rate-implausible",
  runs: "recording",
  find: (evidence) => {
    const nothing = withoutEffect(evidence.collected);
    // A device reports what it runs at, which is no slip.
    const effective = evidence.entries.filter(({ placed }) => !nothing.has(placed.id));
    const byHand = new Set(
      effective.flatMap(({ placed }) => (placed.source === "person" ? [placed.id] : [])),
    );
    const last = new Map<string, Rate>();
    return effective.flatMap(ratesOf).flatMap((one) => {
      const source = `${one.role} ${one.channel}`;
      const before = last.get(source) ?? rateBefore(one, evidence);
      last.set(source, one.rate);
      if (!byHand.has(one.id)) return [];
      const why = tooFast(one, evidence) ?? slipped(one, before, evidence);
      if (why === null || borneOut(one, evidence)) return [];
      const settledBy = [{ text: "An amendment of the rate, or a reading of the total that bears it out." }];
      return {
        code: "rate-implausible",
        severity: "attention",
        subject: one.id,
        channel: one.channel,
        start: one.at,
        entries: [one.id],
        volume: null,
        sentence: asSentence(`at ${evidence.words.time(one.at)} ${why}`),
        settledBy,
      };
    });
  },
};

/** What an entry sets the rate of. A bolus is left out: by hand it is given as fast as a hand can. */
function ratesOf({ placed: { id, entry } }: Reported): Programmed[] {
  if (entry.kind !== "flow-started" && entry.kind !== "secondary-started" && entry.kind !== "rate-changed") {
    return [];
  }
  const { kind, channel, rate, at } = entry;
  return rate === "unknown" ? [] : [{ id, kind, channel, role: roleOf(entry), rate, at }];
}

function roleOf(
  entry: Extract<Entry, { kind: "flow-started" | "secondary-started" | "rate-changed" }>,
): Role {
  if (entry.kind === "rate-changed") return entry.role;
  return entry.kind === "flow-started" ? "primary" : "secondary";
}

function tooFast({ channel, rate }: Programmed, { state, words }: Evidence): string | null {
  const type = state.channels.get(channel)?.type;
  if ((type !== "pump" && type !== "syringe") || rate <= FASTEST) return null;
  return `${channel} was set to ${words.rate(rate)}, faster than a ${type} runs`;
}

/** What was programmed when the evidence began. */
function rateBefore({ channel, role }: Programmed, { before }: Evidence): Rate | undefined {
  const rate = before.channels.get(channel)?.[role]?.rate;
  return rate === "unknown" ? undefined : rate;
}

/** Only a change is compared: what is started anew may be another fluid. */
function slipped(
  { kind, channel, rate }: Programmed,
  before: Rate | undefined,
  { words }: Evidence,
): string | null {
  if (kind !== "rate-changed" || before === undefined) return null;
  for (const factor of [10, 100] as const) {
    const [more, less] = [before * factor === rate, rate * factor === before];
    if (!more && !less) continue;
    const times = more ? MORE[factor] : LESS[factor];
    return `${channel} was set to ${words.rate(rate)}, exactly ${times} the ${words.rate(before)} before`;
  }
  return null;
}

/** Whether the first total read after the rate had run for a while agrees. */
function borneOut({ channel, role, at }: Programmed, { collected }: Evidence): boolean {
  const next = readingsOn(collected, channel).find(
    (reading) => (reading.total === role || reading.total === "combined") && reading.at >= later(at, RAN_FOR),
  );
  return next?.outcome === "agrees";
}
