/**
 * What somebody signed stays as it was signed, whatever is looked at afterwards: a total, a level or a
 * segment, by a person or a device, of an earlier time, of the signed time or later. Only what happened, or a
 * correction, may move it. Signatures tile their shift, and are themselves as recorded as everything else.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Instant, instant } from "../../src/time/instant.js";
import { iso } from "./deeds.js";
import { BEGINS, bedside, HOUR, MINUTE, type Moment, toldBy, type Visit, visits } from "./readings.js";
import { done, type Json, NURSE, PUMPS, type Stay, WEST } from "./stay.js";
import type { Told } from "./telling.js";

const LONG = Number(process.env.LONG_PROPERTIES ?? 0);
const PATIENCE = 120_000 * (LONG > 0 ? 10 * LONG : 1);
const runs = (few: number) => (LONG > 0 ? { numRuns: few * 10 * LONG } : { numRuns: few, seed: 20_260_306 });

type Deed =
  | { readonly does: "sign" }
  | { readonly does: "visit"; readonly visit: Visit }
  /** That the patient was in the other unit from some minutes ago on. */
  | { readonly does: "move"; readonly ago: number };

const pump = fc.constantFrom("pump-1", "pump-2");

/** Looks of any time since the beginning: many of them change how an older reading is judged. */
const looks: fc.Arbitrary<Moment> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      does: fc.constant("read" as const),
      ago: fc.nat({ max: 20 * 60 }),
      channel: pump,
      total: fc.constantFrom("primary", "primary", "secondary", "combined"),
      thousandths: fc.constantFrom(0, 500, 900, 960, 1_000, 1_000, 1_040, 1_100, 1_700),
      byDevice: fc.boolean(),
      confirmed: fc.boolean(),
    }),
  },
  {
    weight: 4,
    arbitrary: fc.record({
      does: fc.constant("chart" as const),
      ago: fc.nat({ max: 20 * 60 }),
      told: fc.record({
        kind: fc.constant("bag-level-read"),
        bag: fc.constant("drip"),
        remaining: fc.integer({ min: 0, max: 1_000 }),
        method: fc.constant("scale"),
      }) as fc.Arbitrary<Told>,
    }),
  },
  {
    weight: 1,
    arbitrary: fc
      .record({
        ago: fc.nat({ max: 600 }),
        long: fc.integer({ min: 5, max: 600 }),
        channel: pump,
        volume: fc.nat(400),
      })
      .map(({ ago, long, channel, volume }) => {
        // The start of a segment is told by how long it was, and put in its place when it is recorded.
        return { does: "chart" as const, ago, told: { kind: "segment-read", channel, volume, long } };
      }),
  },
);

const later = fc.integer({ min: 1, max: 5 * 60 });

/** Visits of all kinds, looks at any time, and signatures between them. */
const story = (most: number): fc.Arbitrary<readonly Deed[]> =>
  fc
    .tuple(
      visits(most),
      fc.array(fc.tuple(fc.record({ later, moment: looks }), fc.nat()), { maxLength: most }),
      fc.array(fc.nat(), { minLength: 1, maxLength: 5 }),
      fc.array(fc.tuple(fc.nat({ max: 12 * 60 }), fc.nat()), { maxLength: 2 }),
    )
    .map(([all, more, signs, moves]) => {
      const deeds: Deed[] = all.map((visit) => ({ does: "visit", visit }));
      const put = (deed: Deed, place: number) => deeds.splice(place % (deeds.length + 1), 0, deed);
      for (const place of signs) put({ does: "sign" }, place);
      for (const [visit, place] of more) put({ does: "visit", visit }, place);
      for (const [ago, place] of moves) put({ does: "move", ago }, place);
      return deeds;
    });

const LOOKS = ["total-read", "bag-level-read", "segment-read"];

async function besideWest(): Promise<Stay> {
  const stay = await bedside();
  await stay.ledger.openUnit(NURSE, { ...WEST, settings: { precision: 0.1 } }, null);
  return stay;
}

async function tellOf(stay: Stay, moment: Moment, id: string): Promise<Told | undefined> {
  const told = await toldBy(stay, moment, id);
  if (told?.kind !== "segment-read") return told;
  const { long, ...segment } = told as Told & { long: number; at: string };
  return { ...segment, start: iso(Date.parse(segment.at) - long * MINUTE) };
}

/** The shifts of the stay so far, by name, the running one last. */
async function shiftNames(stay: Stay): Promise<string[]> {
  const { shifts } = done(await stay.ledger.encounter("stay-1")).answer as Json;
  return shifts.map(({ date, name }: Json) => `${date}/${name}`).reverse();
}

/** What the answers say of everything signed: volumes by hour and bag within each signed span. */
async function signedFigures(stay: Stay, spans: readonly Json[]): Promise<Json[]> {
  const figures: Json[] = [];
  for (const { from, to } of spans) {
    const period = { from: instant(Date.parse(from)), to: instant(Date.parse(to)) };
    for (const per of ["bag", "line"] as const) {
      const { rows } = await stay.volumes(period, { per });
      figures.push(
        rows
          .map(({ key, volumes, computed, total }: Json) => ({ key, volumes, computed, total }))
          .filter(({ volumes }: Json) => volumes.some((volume: number) => volume !== 0)),
      );
    }
  }
  return figures;
}

/** Signs the shift that is over longest and not signed to its end; else the running one. */
async function signNext(stay: Stay): Promise<string | undefined> {
  for (const name of await shiftNames(stay)) {
    if ((await stay.signs(name)) !== null) return name;
  }
  return undefined;
}

/** The patient was in the other unit, with other shifts, from some minutes ago on. */
async function moveFrom(stay: Stay, ago: number): Promise<void> {
  const { unit } = done(await stay.ledger.encounter("stay-1")).answer as Json;
  const move = { unit: unit === "east" ? "west" : "east", at: iso(stay.now - ago * MINUTE) };
  await stay.ledger.changeEncounter(NURSE, "stay-1", { move });
}

async function signatures(stay: Stay): Promise<Json[]> {
  return (await stay.entries()).filter(({ kind }) => kind === "shift-signed");
}

describe("what was signed", () => {
  it(
    "is the same before and after anything is looked at, and before and after it is signed",
    async () => {
      let looked = 0;
      await fc.assert(
        fc.asyncProperty(story(10), async (deeds) => {
          const stay = await besideWest();
          for (const [i, deed] of deeds.entries()) {
            if (deed.does === "move") {
              await moveFrom(stay, deed.ago);
              continue;
            }
            if (deed.does === "sign") {
              stay.itIs(stay.now + MINUTE);
              const period = [{ from: iso(BEGINS), to: iso(stay.now) }];
              const before = await signedFigures(stay, period);
              await signNext(stay);
              expect(await signedFigures(stay, period)).toEqual(before);
              continue;
            }
            stay.itIs(stay.now + deed.visit.later * MINUTE);
            const told = await tellOf(stay, deed.visit.moment, `v-${i}`);
            if (told === undefined) continue;
            const spans = (await signatures(stay)).map(({ from, at }) => ({ from, to: at }));
            const before = await signedFigures(stay, spans);
            const { moment } = deed.visit;
            const as =
              (moment.does === "read" && moment.byDevice) || told.kind === "segment-read" ? PUMPS : NURSE;
            await stay.send([told], { as });
            if (!LOOKS.includes(told.kind as string)) continue;
            expect(await signedFigures(stay, spans)).toEqual(before);
            if (spans.length > 0) looked++;
          }
        }),
        runs(40),
      );
      expect(looked).toBeGreaterThan(50);
    },
    PATIENCE,
  );

  it(
    "tiles its shift, and every answer is what it was, before and after a signature",
    async () => {
      await fc.assert(
        fc.asyncProperty(story(5), async (deeds) => {
          const stay = await besideWest();
          const kept: { sequence: number; now: Instant; saw: Json }[] = [];
          const seen = async (
            coordinates: { asOf?: { sequence: number }; until?: Instant },
            now: Instant,
          ) => ({
            shift: await stay.shift("2026-03-06/day", coordinates),
            day: await stay.volumes({ from: instant(BEGINS), to: instant(now + HOUR) }, coordinates),
            findings: await stay.findings(coordinates),
          });
          for (const [i, deed] of deeds.entries()) {
            if (deed.does === "move") await moveFrom(stay, deed.ago);
            else if (deed.does === "sign") await signNext(stay.itIs(stay.now + MINUTE));
            else {
              stay.itIs(stay.now + deed.visit.later * MINUTE);
              const told = await tellOf(stay, deed.visit.moment, `v-${i}`);
              if (told !== undefined) await stay.send([told]);
            }
            const { now } = stay;
            kept.push({ sequence: await stay.sequence(), now, saw: await seen({}, now) });
          }
          for (const name of await shiftNames(stay)) tiled(await stay.shift(name));
          stay.itIs(stay.now + 30 * HOUR);
          const sameAsThen = async () => {
            for (const { sequence, now, saw } of kept) {
              expect(await seen({ asOf: { sequence }, until: now }, now)).toEqual(saw);
            }
          };
          await sameAsThen();
          await stay.withoutCheckpoints();
          await sameAsThen();
          expect(stay.ledger.verify()).toMatchObject({ sound: true });
        }),
        runs(6),
      );
    },
    PATIENCE,
  );
});

/** No two signatures stand for an instant, and what is to be signed next is of none that is as it was signed. */
function tiled({ start, end, signatures, toSign }: Json): void {
  const stands = signatures
    .flatMap((signature: Json) => signature.stands)
    .map(({ from, to, state }: Json) => ({ from: Date.parse(from), to: Date.parse(to), state }))
    .sort((a: Json, b: Json) => a.from - b.from);
  let reached = Date.parse(start);
  for (const { from, to } of stands) {
    expect(from).toBeGreaterThanOrEqual(reached);
    reached = to;
  }
  expect(reached).toBeLessThanOrEqual(Date.parse(end));
  const next = toSign === null ? [] : stands.filter(({ from, to }: Json) => isWithin(toSign.from, from, to));
  expect(next.filter(({ state }: Json) => state === "final")).toEqual([]);
}

function isWithin(text: string, from: number, to: number): boolean {
  return from <= Date.parse(text) && Date.parse(text) < to;
}

describe("the digest of what would be signed", () => {
  it(
    "is another exactly when a figure is",
    async () => {
      let [same, other] = [0, 0];
      await fc.assert(
        fc.asyncProperty(visits(8), async (all) => {
          const stay = await bedside();
          for (const [i, { later, moment }] of all.entries()) {
            stay.itIs(stay.now + Math.min(later, 90) * MINUTE);
            const told = await tellOf(stay, moment, `v-${i}`);
            if (told === undefined) continue;
            const [name] = await shiftNames(stay);
            const before = await stay.shift(name!);
            await stay.send([told]);
            const after = await stay.shift(name!);
            const alike = JSON.stringify(figures(after)) === JSON.stringify(figures(before));
            expect(after.toSign.digest === before.toSign.digest, JSON.stringify(told)).toBe(alike);
            if (alike) same++;
            else other++;
          }
        }),
        runs(12),
      );
      expect(Math.min(same, other)).toBeGreaterThan(10);
    },
    PATIENCE,
  );
});

/** The figures of a shift, row by row, of what has any. */
function figures({ volumes, balance }: Json): Json {
  const some = (rows: Json[]) =>
    rows.map(({ key, volumes }) => [key, volumes]).filter(([, all]) => all.some((one: number) => one));
  return [some(volumes.rows), some(balance.intake.rows), some(balance.output.rows), balance.net];
}
