/** When something was typed, or how often the course was worked out on the way, changes no figure. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Placed } from "../../src/infusion/entry.js";
import { inOrder } from "../../src/infusion/order.js";
import { rank } from "../naive/order.js";
import { BEGINS, type Encounter, encounterOf } from "./arbitrary.js";
import {
  deliveredBetween,
  type Folded,
  fold,
  foldOn,
  NOTHING_FOLDED,
  plain,
  totalsShown,
} from "./folding.js";
import { REMEMBERED } from "./remembered.js";
import { PATIENCE, runs } from "./runs.js";
import { CLOSE_UP, ODD_NUMBERS, REALISTIC } from "./scales.js";

const encounter = fc.oneof(encounterOf(REALISTIC), encounterOf(ODD_NUMBERS), encounterOf(CLOSE_UP));
const millionth = fc.nat({ max: 1_000_000 });

const instantAt = ({ until }: Encounter, part: number) =>
  BEGINS + Math.floor((part * (until - BEGINS)) / 1_000_000);

/** Everything an answer is made of; flows by what they delivered, since a stop on the way may cut one in two. */
function answers({ flows, unknown, notes, state }: Folded, instants: readonly number[]) {
  const lasting = new Map<string, number>();
  for (const { channel, bag, role, reason, start, end } of unknown) {
    const name = [channel, bag, role, reason].join(" ");
    lasting.set(name, (lasting.get(name) ?? 0) + end - start);
  }
  return {
    delivered: instants.map((instant) => plain(deliveredBetween(flows, BEGINS, instant))),
    unknown: plain(lasting),
    notes: notes.map(({ code, at, entry, channel }) => [at, entry, code, channel].join(" ")).sort(),
    totals: plain(totalsShown(state)),
  };
}

/** New places in the recording, as the keys fall; those of equal rank at one instant keep their order. */
function recordedAnew(entries: readonly Placed[], keys: readonly number[]): Placed[] {
  const happenings = entries.map(({ sequence, source, entry }) => ({ sequence, source, entry }));
  const shuffled = entries
    .map((placed, i) => ({ placed, key: keys[i % keys.length]! * (i + 1) }))
    .sort((a, b) => (a.key % 1_009) - (b.key % 1_009))
    .map(({ placed }, i) => ({ placed, sequence: i + 1 }));
  const ties = new Map<string, { placed: Placed; sequence: number }[]>();
  for (const one of shuffled) {
    const { entry } = one.placed;
    const tie = [entry.at, entry.order ?? 0, rank(entry, happenings)].join(" ");
    ties.set(tie, [...(ties.get(tie) ?? []), one]);
  }
  return [...ties.values()].flatMap((tied) => {
    const sequences = tied.map(({ sequence }) => sequence).sort((a, b) => a - b);
    const original = tied.map(({ placed }) => placed).sort((a, b) => a.sequence - b.sequence);
    return original.map((placed, i) => ({ ...placed, sequence: sequences[i]! }));
  });
}

describe("the order of recording", () => {
  it("decides nothing, but among equal ranks at one instant", { timeout: PATIENCE }, () => {
    const keys = fc.array(fc.nat({ max: 1_008 }), { minLength: 1, maxLength: 40 });
    const property = fc.property(encounter, keys, (stay, keys) => {
      const anew = recordedAnew(stay.entries, keys);
      expect(inOrder(anew).map(({ id }) => id)).toEqual(inOrder(stay.entries).map(({ id }) => id));
      const until = [stay.until];
      expect(answers(fold(anew, stay.until), until)).toEqual(answers(fold(stay.entries, stay.until), until));
    });
    const examples = REMEMBERED.map(({ encounter }): [Encounter, number[]] => [encounter, [7, 400, 31]]);
    fc.assert(property, { ...runs(150), examples });
  });
});

describe("stopping on the way", () => {
  interface Stop {
    /** In millionths of the stay, or where an entry stands or a flow ends. */
    readonly where: number | "an entry" | "an end";
    /** Whether the entries of that very instant come before the stop or after it. */
    readonly before: boolean;
  }
  const anywhere = fc.oneof(millionth, fc.constantFrom("an entry" as const, "an end" as const));
  const stop: fc.Arbitrary<Stop> = fc.record({ where: anywhere, before: fc.boolean() });

  it("at any instants, and going on from there, is folding at once", { timeout: PATIENCE }, () => {
    const stops = fc.array(stop, { maxLength: 5 });
    const property = fc.property(encounter, stops, fc.nat(), (stay, stops, pick) => {
      const atOnce = fold(stay.entries, stay.until);
      const [happenings, ends] = [
        stay.entries.map(({ entry }) => entry.at),
        atOnce.flows.map(({ end }) => end),
      ];
      const placed = stops.map(({ where, before }, i) => {
        if (typeof where === "number") return { at: instantAt(stay, where), before };
        const instants = where === "an entry" || ends.length === 0 ? happenings : ends;
        return { at: instants[(pick + i) % instants.length]!, before };
      });
      let folded = NOTHING_FOLDED;
      let ahead: readonly Placed[] = stay.entries;
      for (const { at, before } of placed.sort((a, b) => a.at - b.at)) {
        const isDue = ({ entry }: Placed) => entry.at < at || (before && entry.at === at);
        folded = foldOn(folded, ahead.filter(isDue), at);
        ahead = ahead.filter((placed) => !isDue(placed));
      }
      folded = foldOn(folded, ahead, stay.until);
      const instants = [...placed.map(({ at }) => at), stay.until];
      expect(answers(folded, instants)).toEqual(answers(atOnce, instants));
      expect(folded.state).toEqual(atOnce.state);
    });
    const stopped: Stop[] = [
      { where: "an entry", before: false },
      { where: "an end", before: false },
    ];
    const examples = REMEMBERED.map(
      ({ encounter }) => [encounter, stopped, 3] as [Encounter, Stop[], number],
    );
    fc.assert(property, { ...runs(200), examples });
  });
});

/** A stay, and one more entry of another stay of the same kind that was recorded last. */
const withLateEntry = [REALISTIC, ODD_NUMBERS, CLOSE_UP].map((scale) =>
  fc.record({
    stay: encounterOf({ ...scale, lasts: fc.constant(scale === CLOSE_UP ? 2_000 : 8 * 3_600_000) }, 16),
    other: encounterOf({ ...scale, lasts: fc.constant(scale === CLOSE_UP ? 2_000 : 8 * 3_600_000) }, 16),
    which: fc.nat(),
  }),
);

function lateEntry({ stay, other, which }: { stay: Encounter; other: Encounter; which: number }): Placed {
  const sequence = stay.entries.length + 1;
  const { source, entry } = other.entries[which % other.entries.length]!;
  return { id: `entry-${sequence}`, sequence, source, entry };
}

describe("a late entry", () => {
  it("changes nothing before its instant", { timeout: PATIENCE }, () => {
    const property = fc.property(fc.oneof(...withLateEntry), millionth, (drawn, part) => {
      const { entries, until } = drawn.stay;
      const late = lateEntry(drawn);
      const before = BEGINS + Math.floor((part * (late.entry.at - BEGINS)) / 1_000_000);
      const instants = [before, late.entry.at];
      const delivered = (all: readonly Placed[]) =>
        instants.map((instant) => plain(deliveredBetween(fold(all, until).flows, BEGINS, instant)));
      expect(delivered([...entries, late])).toEqual(delivered(entries));
    });
    fc.assert(property, runs(150));
  });

  it("taken back leaves everything as if it had never been there", { timeout: PATIENCE }, () => {
    const property = fc.property(fc.oneof(...withLateEntry), (drawn) => {
      const { entries, until } = drawn.stay;
      const late = lateEntry(drawn);
      const untouched = fold(entries, until);
      // Both go on from one kept state, as a ledger does from a checkpoint: nothing may leak between them.
      const isLater = ({ entry }: Placed) => entry.at >= late.entry.at;
      const kept = foldOn(
        NOTHING_FOLDED,
        entries.filter((placed) => !isLater(placed)),
        late.entry.at - 1,
      );
      foldOn(kept, [...entries.filter(isLater), late], until);
      const after = foldOn(kept, entries.filter(isLater), until);
      expect(answers(after, [until])).toEqual(answers(untouched, [until]));
      expect(after.state).toEqual(untouched.state);
    });
    fc.assert(property, runs(100));
  });
});
