/**
 * The figures told as changed are those that differ between the two answers, no more and no fewer: by what changed
 * between two moments, by a dry run of one request, and by the finding that signed figures are others. Whatever is
 * named as having moved a figure is an entry before and after which the figure is not the same.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { instant } from "../../src/time/instant.js";
import { iso, wellFormed } from "./deeds.js";
import { BEGINS, bedside, HOUR, MINUTE, type Moment, toldBy, visits } from "./readings.js";
import { done, type Json, NURSE, PUMPS, type Stay } from "./stay.js";
import type { Told } from "./telling.js";

const LONG = Number(process.env.LONG_PROPERTIES ?? 0);
const PATIENCE = 120_000 * (LONG > 0 ? 10 * LONG : 1);
const runs = (few: number) => (LONG > 0 ? { numRuns: few * 10 * LONG } : { numRuns: few, seed: 20_261_128 });

/** Figures are told by the hour for three days from where they begin to move; no story goes on for longer. */
const GOES_ON = 58 * HOUR;

const pump = fc.constantFrom("pump-1", "pump-2");

/** What tells of time before it: `long` in minutes back from when it is charted to where it begins. */
const ofBefore: fc.Arbitrary<Moment> = fc
  .record({
    ago: fc.nat({ max: 20 * 60 }),
    long: fc.integer({ min: 5, max: 14 * 60 }),
    told: fc.oneof(
      fc.record({
        kind: fc.constant("delivery-lost"),
        channel: pump,
        volume: fc.integer({ min: 1, max: 60 }),
        reason: fc.constant("leaked"),
      }),
      fc.record({ kind: fc.constant("segment-read"), channel: pump, volume: fc.nat(400) }),
    ),
  })
  .map(({ ago, long, told }) => ({ does: "chart", ago, told: { ...told, long } }));

const amounts: fc.Arbitrary<Moment> = fc.record({
  does: fc.constant("chart" as const),
  ago: fc.nat({ max: 20 * 60 }),
  told: fc.oneof(
    fc.record({
      kind: fc.constantFrom("output-measured"),
      category: fc.constant("urine"),
      site: fc.constant("bladder"),
      volume: fc.integer({ min: 50, max: 900 }),
    }),
    fc.record({
      kind: fc.constant("irrigant-instilled"),
      site: fc.constant("bladder"),
      volume: fc.integer({ min: 20, max: 300 }),
    }),
    fc.record({
      kind: fc.constant("weight-measured"),
      weight: fc.constantFrom({ value: 70, unit: "kg" }, { value: 71, unit: "kg" }),
    }),
  ),
});

type Deed = { readonly later: number; readonly moment: Moment | "sign" };

const story = (most: number): fc.Arbitrary<readonly Deed[]> =>
  fc
    .tuple(
      visits(most),
      fc.array(
        fc.tuple(
          fc.record({
            later: fc.integer({ min: 1, max: 300 }),
            moment: fc.oneof({ weight: 3, arbitrary: ofBefore }, amounts),
          }),
          fc.nat(),
        ),
        { minLength: 2, maxLength: most },
      ),
      fc.array(fc.nat(), { maxLength: 3 }),
    )
    .map(([all, more, signs]) => {
      const deeds: Deed[] = [...all];
      const put = (deed: Deed, place: number) => deeds.splice(place % (deeds.length + 1), 0, deed);
      for (const [deed, place] of more) put(deed, place);
      for (const place of signs) put({ later: 1, moment: "sign" }, place);
      return deeds;
    });

async function told(stay: Stay, moment: Moment, id: string): Promise<Told | undefined> {
  const one = await toldBy(stay, moment, id);
  if (one === undefined || !("long" in one)) return one;
  const { long, ...entry } = one as Told & { long: number; at: string };
  const from = iso(Math.max(BEGINS, Date.parse(entry.at) - long * MINUTE));
  return entry.kind === "segment-read" ? { ...entry, start: from } : { ...entry, from, to: entry.at };
}

/** Every figure of the stay by hour as it was known, by its name and the start of its hour. */
async function figures(stay: Stay, sequence: number): Promise<Map<string, number>> {
  const asked = {
    period: { from: instant(BEGINS - 12 * HOUR), to: instant(stay.now + HOUR) },
    by: "hour" as const,
    asOf: { sequence },
    until: stay.now,
  };
  const volumes = done(await stay.ledger.volumes("stay-1", { ...asked, per: "line" })) as Json;
  const balance = done(await stay.ledger.balance("stay-1", asked)) as Json;
  const all = new Map<string, number>();
  const take = (of: string, intervals: Json[], rows: Json[]) => {
    for (const { key, volumes } of rows) {
      for (const [i, { start }] of intervals.entries()) {
        const name = `${of} ${key} ${Date.parse(start)}`;
        all.set(name, Math.round(((all.get(name) ?? 0) + (volumes[i] ?? 0)) * 1_000) / 1_000);
      }
    }
  };
  take("volume", volumes.intervals, volumes.rows);
  take("intake", balance.intervals, balance.intake.rows);
  take("output", balance.intervals, balance.output.rows);
  take("net", balance.intervals, [{ key: null, volumes: balance.net }]);
  return all;
}

/** The names of what differs, with both values. */
function differing(before: Map<string, number>, after: Map<string, number>): string[] {
  const names = [...new Set([...before.keys(), ...after.keys()])];
  const values = (name: string) => [before.get(name) ?? 0, after.get(name) ?? 0];
  return names
    .filter((name) => values(name)[0] !== values(name)[1])
    .map((name) => `${name}: ${values(name).join(" ")}`)
    .sort();
}

const said = (of: string, { start, before, after }: Json, key: string | null) =>
  `${of} ${key} ${Date.parse(start)}: ${before ?? 0} ${after ?? 0}`;

const byChanges = (all: Json[]) =>
  all
    .filter(({ row }) => row.of !== "unmeasured")
    .map((one) => said(one.row.of, one, one.row.key))
    .sort();

/** A dry run tells of what went in by its line, and of output and the net. */
function byEffects(all: Json[]): string[] {
  return all
    .map((one) => {
      const { line, balance } = one.row;
      if (balance === undefined) return said("volume", one, line);
      return balance === "net" ? said("net", one, null) : said("output", one, balance);
    })
    .sort();
}

async function changes(stay: Stay, sequence: number): Promise<Json[]> {
  return (done(await stay.ledger.changes("stay-1", { since: { sequence } })) as Json).figures;
}

async function signNext(stay: Stay): Promise<void> {
  const { shifts } = done(await stay.ledger.encounter("stay-1")).answer as Json;
  for (const { date, name } of shifts.reverse()) {
    if ((await stay.signs(`${date}/${name}`)) !== null) return;
  }
}

const CHANGED = "signed-shift-changed";

async function signedOtherwise(stay: Stay): Promise<Map<string, string>> {
  const found = (await stay.findings()).filter(({ code, state }) => code === CHANGED && state !== "settled");
  return new Map(found.map(({ id, sentence }) => [id, sentence]));
}

/** Each named entry moved the figure: as of the one before it the figure is another than as of itself. */
async function lookedAt(stay: Stay, all: Json[]): Promise<void> {
  const bySequence = new Map((await stay.entries()).map(({ id, recorded }) => [id, recorded.sequence]));
  const seen = new Map<number, Map<string, number>>();
  const asOf = async (sequence: number) => {
    if (!seen.has(sequence)) seen.set(sequence, await figures(stay, sequence));
    return seen.get(sequence)!;
  };
  for (const { row, start, causes } of all) {
    if (row.of === "unmeasured") continue;
    expect(causes.length, `${row.of} ${start}`).toBeGreaterThan(0);
    for (const id of causes) {
      const sequence = bySequence.get(id);
      const name = `${row.of} ${row.key} ${Date.parse(start)}`;
      const [was, is] = [(await asOf(sequence - 1)).get(name) ?? 0, (await asOf(sequence)).get(name) ?? 0];
      expect(was, `${id}: ${name}`).not.toBe(is);
    }
  }
}

describe("what is told as changed", () => {
  it(
    "is what differs, and what is named moved it",
    async () => {
      const moved = { earlier: 0, signed: 0 };
      await fc.assert(
        fc.asyncProperty(story(8), fc.nat(), async (deeds, back) => {
          const stay = await bedside();
          const sequences = [await stay.sequence()];
          for (const [i, { later, moment }] of deeds.entries()) {
            if (stay.now + later * MINUTE > BEGINS + GOES_ON) break;
            stay.itIs(stay.now + later * MINUTE);
            if (moment === "sign") {
              await signNext(stay);
              continue;
            }
            const entry = await told(stay, moment, `v-${i}`);
            if (entry === undefined || !wellFormed([entry])) continue;
            const as = (moment.does === "read" && moment.byDevice) || entry.kind === "segment-read";
            const sequence = await stay.sequence();
            const wasSigned = await signedOtherwise(stay);
            const dry = await stay.send([entry], { as: as ? PUMPS : NURSE, dryRun: true });
            const sent = await stay.send([entry], { as: as ? PUMPS : NURSE });
            if (sent.refused !== undefined) continue;
            sequences.push(await stay.sequence());
            const before = await figures(stay, sequence);
            const after = await figures(stay, await stay.sequence());
            const differ = differing(before, after);
            const context = JSON.stringify(entry);
            const all = await changes(stay, sequence);
            expect(byChanges(all), context).toEqual(differ);
            for (const { causes } of all) expect(causes, context).toEqual([entry.id]);
            const rehearsed = JSON.parse(done(dry).body);
            expect(byEffects(rehearsed.effects), context).toEqual(
              differ.filter((one) => !one.startsWith("intake")),
            );
            // Told at once is every signature of which something is otherwise than before.
            const isSigned = await signedOtherwise(stay);
            const ids = [...new Set([...wasSigned.keys(), ...isSigned.keys()])];
            const otherwise = ids.filter((id) => wasSigned.get(id) !== isSigned.get(id)).sort();
            const named = (body: Json) =>
              body.findings.flatMap(({ code, id }: Json) => (code === CHANGED ? [id] : [])).sort();
            expect(named(JSON.parse(sent.done.body)), context).toEqual(otherwise);
            expect(named(rehearsed), context).toEqual(otherwise);
            moved.signed += otherwise.length;
            const at = "at" in entry ? Date.parse(entry.at as string) : stay.now;
            if (all.some(({ end }) => Date.parse(end) <= at - 12 * HOUR)) moved.earlier++;
          }
          const since = sequences[back % sequences.length]!;
          const all = await changes(stay, since);
          const now = await figures(stay, await stay.sequence());
          expect(byChanges(all)).toEqual(differing(await figures(stay, since), now));
          await lookedAt(stay, all);
        }),
        runs(20),
      );
      // Shown of something: of figures of a shift before, and of signed ones.
      expect(moved.earlier).toBeGreaterThan(0);
      expect(moved.signed).toBeGreaterThan(0);
    },
    PATIENCE,
  );
});
