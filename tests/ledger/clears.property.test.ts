/**
 * Whatever is asked of the ledger in whatever order, no running total is cleared with much at risk unless
 * it was read before, somebody gave a reason, or a finding says so. What was at risk is judged by the naive
 * simulator.
 */

import fc from "fast-check";
import { expect, it, onTestFinished } from "vitest";
import type { Placed } from "../../src/infusion/entry.js";
import { coordinates } from "../../src/ledger/coordinates.js";
import { BEFORE_EVERYTHING, countingBetween } from "../../src/ledger/replay.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { later } from "../../src/time/instant.js";
import { simulate } from "../naive/simulator.js";
import type { Report } from "../naive/ward.js";
import { PATIENCE, runs } from "../properties/runs.js";
import { iso } from "./deeds.js";
import { BEGINS, bedside, expectedOf, MINUTE, toldBy, type Visit, visits } from "./readings.js";
import { done, type Json, NURSE, PUMPS, type Stay } from "./stay.js";
import type { Told } from "./telling.js";

const TICKS_PER_ML = 3_600_000_000;
/**
 * Whatever is told here begins on a whole minute, a bolus runs at 300 mL/h and a secondary at 100, both of
 * whole mL: so all of it but a bag that runs dry ends on one of these.
 */
const STEP = 12_000;
/** What a bag that runs dry gives in a step, and what is rounded away in a sentence, in mL. */
const NEARLY = 0.6;
/** What may go unread: 2 mL, or two minutes of flow that is no bolus. */
const [LITTLE, BRIEF] = [2, 2 * MINUTE];

type By = "asked" | "queue" | "device";
/** What a person does who is asked: gives up, reads the total after all or a zero, or says why it stays unread. */
type Answer = "gives-up" | "reads" | "reads-nothing" | "says-why";

const shift = visits(12, 12).chain((all) =>
  fc.record({
    all: fc.constant(all),
    by: fc.array(fc.constantFrom<By>("asked", "asked", "queue", "device"), { minLength: 12, maxLength: 12 }),
    answers: fc.array(fc.constantFrom<Answer>("gives-up", "reads", "reads-nothing", "says-why"), {
      minLength: 12,
      maxLength: 12,
    }),
  }),
);

async function visited(stay: Stay, { later, moment }: Visit, i: number, by: By, answer: Answer) {
  stay.itIs(stay.now + later * MINUTE);
  const told = await toldBy(stay, moment, `v-${i}`);
  if (told === undefined) return;
  const who = { as: by === "device" ? PUMPS : NURSE, queued: by === "queue" };
  const first = await stay.send([told], who);
  if (first.refused === undefined) return;
  const { problem } = first.refused;
  if (problem !== "totals-at-risk" && problem !== "reading-disagrees") return;
  expect(by, "only a person who is there is asked").toBe("asked");
  if (answer === "gives-up") return;
  const again = await answering(stay, told, first.refused.members as Json, answer);
  await stay.send(again, who);
}

async function answering(stay: Stay, told: Told, { atRisk = [] }: Json, answer: Answer): Promise<Told[]> {
  const saying = (more: Told): Told =>
    told.kind === "entry-amended"
      ? { ...told, replacement: { ...(told.replacement as Told), ...more } }
      : { ...told, ...more };
  if (atRisk.length === 0) return [saying({ confirmed: true })];
  if (answer === "says-why") return [saying({ leaveUncaptured: { reason: "device-gone" } })];
  const readings: Told[] = [];
  for (const { at, channel, total } of atRisk) {
    const expected = answer === "reads" ? await expectedOf(stay, channel, total, at) : 0;
    const volume = Math.round(expected * 1_000) / 1_000;
    readings.push({ kind: "total-read", at, channel, total, volume, position: "before", confirmed: true });
  }
  return [...readings, told];
}

async function countingIn(stay: Stay): Promise<Placed[]> {
  const store = await openSqlite(stay.path, { migrate: false });
  onTestFinished(() => store.close());
  const counting = await store.read(function* () {
    const resolved = yield* coordinates("encounter/stay-1", {}, stay.now);
    const { known, until } = done(resolved);
    return yield* countingBetween(known, BEFORE_EVERYTHING, later(until, 1));
  });
  return counting.map(({ placed }) => placed);
}

interface Cleared {
  readonly at: number;
  readonly channel: string;
  readonly total: string;
  /** In mL. */
  readonly atRisk: number;
  /** Whether it was more than may go unread for certain, or may have been. */
  readonly much: boolean;
  readonly maybeMuch: boolean;
  /** Only since nobody knows when it was. */
  readonly found?: boolean;
  /** Entries of that instant on the channel. */
  readonly entries: readonly Placed[];
}

const CLEARING = ["totals-reset", "therapy-changed", "channel-connected", "secondary-started"];

/** What the simulator says was cleared, and what it had counted since it was last read. */
function clearedIn(placed: readonly Placed[]): Cleared[] {
  const shown = (entries: readonly Placed[], until: number) =>
    simulate(entries as unknown as Report[], { from: BEGINS, until, step: STEP, overfill: 100 }).totals;
  const isRead = ({ entry }: Placed) => entry.kind === "total-read";
  const unread = placed.filter((one) => !isRead(one));
  const cleared: Cleared[] = [];
  const clearing = placed.filter(({ entry }) => CLEARING.includes(entry.kind));
  for (const at of new Set(clearing.map(({ entry }) => entry.at))) {
    if (at <= BEGINS) continue;
    const [before, after] = [
      shown(
        unread.filter(({ entry }) => entry.at < at),
        at,
      ),
      shown(
        unread.filter(({ entry }) => entry.at <= at),
        at,
      ),
    ];
    // A zero never answers; anything else that stands before the clear does.
    const told = placed.filter(
      ({ entry }) =>
        entry.at < at || (entry.at === at && entry.kind === "total-read" && entry.position !== "after"),
    );
    const known = shown(
      told.filter(({ entry }) => entry.kind !== "total-read" || entry.volume > 0),
      at,
    );
    for (const [name, { expected }] of before) {
      if ((after.get(name)?.expected ?? 0) >= expected) continue;
      const [channel, total] = name.split("/") as [string, string];
      const entries = placed.filter(
        ({ entry }) => entry.at === at && "channel" in entry && entry.channel === channel,
      );
      const { atRisk, flowing, bolus } = known.get(name)!;
      const volume = atRisk / TICKS_PER_ML;
      const much = volume > LITTLE + NEARLY && (flowing > BRIEF + STEP || bolus);
      const maybeMuch = volume > LITTLE - NEARLY && (flowing > BRIEF - STEP || bolus);
      const one = { at, channel, total, atRisk: volume, much, maybeMuch, entries };
      cleared.push(withFound(one, placed, shown));
    }
  }
  return cleared;
}

type Shown = (entries: readonly Placed[], until: number) => ReturnType<typeof simulate>["totals"];

/**
 * A clear of which nobody knows when it was can have lost more, up to the latest it can have been: all that was
 * counted since the last reading until the next one, less what that shows.
 */
function withFound(one: Cleared, placed: readonly Placed[], shown: Shown): Cleared {
  const { at, channel, total, entries } = one;
  const finds = entries.filter(({ entry }) => entry.kind === "totals-reset" && (entry.latest ?? at) > at);
  if (finds.length === 0) return one;
  const latest = Math.max(...finds.map(({ entry }) => (entry.kind === "totals-reset" ? entry.latest! : at)));
  const ofTotal = ({ entry }: Placed) =>
    entry.kind === "total-read" && entry.channel === channel && entry.total === total;
  const others = placed.filter((each) => !entries.includes(each));
  const next = others.find((each) => ofTotal(each) && each.entry.at >= at)?.entry;
  const clearedAgain = others.some(
    ({ entry }) =>
      CLEARING.includes(entry.kind) &&
      "channel" in entry &&
      entry.channel === channel &&
      at <= entry.at &&
      entry.at <= Math.max(latest, next?.at ?? at),
  );
  const countedBy = (until: number) =>
    (shown(
      others.filter(({ entry }) => entry.at <= until && !(entry.kind === "total-read" && entry.at >= at)),
      until,
    ).get(`${channel}/${total}`)?.atRisk ?? 0) / TICKS_PER_ML;
  const most = Math.max(one.atRisk, countedBy(latest));
  const shows = next?.kind === "total-read" ? next.volume / 1_000 : 0;
  const least = next === undefined ? most : Math.min(most, countedBy(next.at) - shows);
  // Told for certain where nothing else cleared it meanwhile; at most so much in any case.
  const certain = !clearedAgain && next?.at !== at && least > LITTLE + NEARLY && most > one.atRisk + 25;
  return {
    ...one,
    atRisk: clearedAgain ? Infinity : most,
    much: one.much || certain,
    maybeMuch: true,
    found: certain,
  };
}

/** What a finding says was lost, in mL. */
const lostBy = ({ sentence }: Json): number => Number(/ with ([\d.]+) mL not/.exec(sentence)![1]);

it("no total is lost in silence, and none that was not", { timeout: PATIENCE }, async () => {
  let [much, found, since] = [0, 0, 0];
  const property = fc.asyncProperty(shift, async ({ all, by, answers }) => {
    const stay = await bedside();
    for (const [i, visit] of all.entries()) await visited(stay, visit, i, by[i]!, answers[i]!);
    const { findings } = done(await stay.ledger.findings("stay-1", { state: "all" })) as Json;
    const lost: Json[] = findings.filter(({ code }: Json) => code === "totals-lost");
    const cleared = clearedIn(await countingIn(stay));
    const tells = ({ concerns }: Json, { channel, entries }: Cleared) =>
      concerns.channel === channel && entries.some(({ id }) => concerns.entries[0] === id);
    for (const one of cleared.filter((each) => each.much)) {
      much++;
      const told = lost.some((finding) => tells(finding, one));
      if (told) found++;
      if (one.found) since++;
      const reason = one.entries.some(({ entry }) => "leaveUncaptured" in entry && entry.leaveUncaptured);
      expect(told || reason, `${one.channel} ${one.total} at ${new Date(one.at).toISOString()}`).toBe(true);
    }
    for (const finding of lost) {
      const of = cleared.filter((one) => one.maybeMuch && tells(finding, one));
      const most = of.reduce((sum, { atRisk }) => sum + atRisk, 0);
      expect(lostBy(finding), finding.sentence).toBeLessThan(most + NEARLY);
    }
  });
  await fc.assert(property, runs(40));
  expect(much).toBeGreaterThan(5);
  expect(found).toBeGreaterThan(0);
  expect(since).toBeGreaterThan(0);
});

it("what a device said is answered by a person who reads the same within minutes, before a clear too", async () => {
  const stay = await bedside();
  const at = (minutes: number) => iso(BEGINS + minutes * MINUTE);
  const read = { kind: "total-read", channel: "pump-1", total: "primary", volume: 60 };
  // 50 mL/h for two hours are 100; the device says 60, and so does whoever looks.
  stay.itIs(BEGINS + 122 * MINUTE);
  await stay.post([{ ...read, at: at(120) }], { as: PUMPS });
  const change = { kind: "therapy-changed", at: at(121), channel: "pump-1" };
  await stay.post([{ ...read, at: at(121), confirmed: true }, change], { queued: false });
  const { findings } = done(await stay.ledger.findings("stay-1", { state: "all" })) as Json;
  const question = findings.filter(({ code }: Json) => code === "reading-disagrees");
  expect(question.map(({ sentence }: Json) => sentence)).toEqual([
    "On pump-1 the primary total counted 60 mL from 07:00 to 09:01, and 100.8 mL was computed: 40.8 mL less.",
  ]);
  expect(findings.map(({ code }: Json) => code)).not.toContain("totals-lost");
});
