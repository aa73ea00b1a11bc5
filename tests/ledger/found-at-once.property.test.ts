/**
 * What an answer to a recording names is what a question right afterwards finds: whatever it calls open
 * stands there with the same words, and what it calls settled does not.
 */

import fc from "fast-check";
import { expect, it } from "vitest";
import { RULES } from "../../src/findings/rules.js";
import { PATIENCE, runs } from "../properties/runs.js";
import { iso } from "./deeds.js";
import { bedside, MINUTE, toldBy, type Visit, visits } from "./readings.js";
import { done, type Json, NURSE, PUMPS, type Stay } from "./stay.js";
import type { Told } from "./telling.js";

/** Levels of the pumps' bags, which are checks there, looked at between all else. */
const look = fc.record({
  later: fc.integer({ min: 1, max: 240 }),
  told: fc.record({
    kind: fc.constant("bag-level-read"),
    bag: fc.constantFrom("saline-1", "saline-2"),
    remaining: fc.integer({ min: 200, max: 900 }),
    method: fc.constantFrom("weighed", "scale"),
  }),
});
/** What the device says it counted over some minutes until now, of the 50 mL/h that mostly run. */
const segment = fc.record({
  later: fc.integer({ min: 1, max: 120 }),
  told: fc
    .record({
      channel: fc.constantFrom("pump-1", "pump-2"),
      minutes: fc.constantFrom(5, 30, 60),
      share: fc.constantFrom(80, 100, 103, 130),
    })
    .map(({ channel, minutes, share }) => ({
      ...{ kind: "segment-read", channel, minutes },
      volume: Math.round((50 * minutes * share) / 600) / 10,
    })),
});
type Look = { readonly later: number; readonly told: Told };

const stayOf = (most: number, clears: number) =>
  fc.record({
    all: visits(most, clears),
    looks: fc.array(fc.option(fc.oneof(look, segment), { freq: 2 }), { minLength: most, maxLength: most }),
    forgetful: fc.array(fc.boolean(), { minLength: most, maxLength: most }),
  });

const AT_ONCE: ReadonlySet<string> = new Set(
  RULES.flatMap(({ code, runs }) => (runs === "recording" ? [code] : [])),
);

async function found(stay: Stay): Promise<Map<string, Json>> {
  const { findings } = done(await stay.ledger.findings("stay-1", { state: "all" })) as Json;
  return new Map(findings.map((one: Json) => [one.id, one]));
}

const wordsOf = ({ state, severity, concerns, sentence }: Json) => ({ state, severity, concerns, sentence });

/** Records something, and holds what the answer names against what is found before and after. */
async function recorded(stay: Stay, told: Told, byDevice: boolean): Promise<number> {
  const before = await found(stay);
  const sent = await stay.send([told], { as: byDevice ? PUMPS : NURSE });
  if (sent.refused !== undefined) return 0;
  const named: Json[] = JSON.parse(sent.done.body).findings;
  const after = await found(stay);
  for (const one of named) {
    const there = after.get(one.id);
    if (one.state === "settled") expect(there?.state ?? "settled", one.id).toBe("settled");
    else expect(there && wordsOf(there), one.id).toEqual(wordsOf(one));
  }
  const ids = new Set(named.map(({ id }) => id));
  const standing = (all: Map<string, Json>) =>
    [...all.values()].filter(({ code, state }) => AT_ONCE.has(code) && state !== "settled");
  const raised = standing(after).filter(({ id, sentence }) => before.get(id)?.sentence !== sentence);
  const settled = standing(before).filter(({ id }) => (after.get(id)?.state ?? "settled") === "settled");
  const silent = [...raised, ...settled].filter(({ id }) => !ids.has(id));
  expect(silent.map(({ id, sentence }) => [id, sentence])).toEqual([]);
  return named.length;
}

async function paid(stay: Stay, { later, moment }: Visit, number: number): Promise<number> {
  stay.itIs(stay.now + later * MINUTE);
  const told = await toldBy(stay, moment, `v-${number}`);
  const byDevice = moment.does === "read" && moment.byDevice;
  return told === undefined ? 0 : recorded(stay, told, byDevice);
}

async function looked(stay: Stay, one: Look | null, number: number): Promise<number> {
  if (one === null) return 0;
  stay.itIs(stay.now + one.later * MINUTE);
  const { minutes, ...told } = one.told;
  const entry = { ...told, id: `l-${number}`, at: iso(stay.now) };
  if (minutes === undefined) return recorded(stay, entry, false);
  return recorded(stay, { ...entry, start: iso(stay.now - (minutes as number) * MINUTE) }, true);
}

/** A chart of the first hours, kept once they are over; what is read later says what flowed in them. */
async function kept(stay: Stay): Promise<void> {
  const begins = stay.now;
  stay.itIs(begins + HOURS * 60 * MINUTE);
  const figures = Array.from({ length: HOURS }, (_, i) => ({
    row: { line: "forearm" },
    start: iso(begins + i * 60 * MINUTE),
    end: iso(begins + (i + 1) * 60 * MINUTE),
    volume: 150,
  }));
  done(await stay.ledger.keepChart(CHARGE, "stay-1", { id: "chart", figures }, null));
}

const HOURS = 4;
const CHARGE = { ...NURSE, id: "c-1", name: "C. Charge", role: "charge-nurse" };

it("names a kept chart that differs otherwise, whatever is read or corrected later", {
  timeout: PATIENCE,
}, async () => {
  let named = 0;
  const property = fc.asyncProperty(stayOf(6, 1), async ({ all, looks, forgetful }) => {
    const stay = await bedside();
    await kept(stay);
    for (const [i, visit] of all.entries()) {
      if (forgetful[i]) await stay.reopened();
      named += await paid(stay, visit, i);
      named += await looked(stay, looks[i]!, i);
    }
  });
  await fc.assert(property, runs(12));
  expect(named).toBeGreaterThan(12);
});

it("names what is found, open and settled", { timeout: PATIENCE }, async () => {
  let named = 0;
  const property = fc.asyncProperty(stayOf(14, 3), async ({ all, looks, forgetful }) => {
    const stay = await bedside();
    for (const [i, visit] of all.entries()) {
      if (forgetful[i]) await stay.reopened();
      named += await paid(stay, visit, i);
      named += await looked(stay, looks[i]!, i);
    }
  });
  await fc.assert(property, runs(25));
  expect(named).toBeGreaterThan(25);
});
