/**
 * A finding is the same one however often it is found: whatever was recorded first, from memory, opened
 * anew or without checkpoints. Having seen it changes no figure, and it stays seen.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { instant } from "../../src/time/instant.js";
import { PATIENCE, runs } from "../properties/runs.js";
import { iso } from "./deeds.js";
import { BEGINS, bedside, HOUR, MINUTE, toldBy, type Visit, visits } from "./readings.js";
import { done, type Json, NURSE, PUMPS, type Stay } from "./stay.js";
import type { Told } from "./telling.js";

interface Fact {
  readonly told: Told;
  readonly byDevice: boolean;
}

/** What visits tell that is no correction, no two facts at one instant, and when the last of them was paid. */
async function factsOf(all: readonly Visit[]): Promise<{ facts: Fact[]; now: number }> {
  const stay = await bedside();
  const facts: Fact[] = [];
  for (const [i, { later, moment }] of all.entries()) {
    stay.itIs(stay.now + later * MINUTE);
    if (moment.does !== "chart" && moment.does !== "read") continue;
    const told = await toldBy(stay, moment, `v-${i}`);
    const taken = [BEGINS, ...facts.map((fact) => Date.parse(fact.told.at as string))];
    if (told === undefined || taken.includes(Date.parse(told.at as string))) continue;
    const fact = { told, byDevice: moment.does === "read" && moment.byDevice };
    await record(stay, fact);
    facts.push(fact);
  }
  return { facts, now: stay.now };
}

const record = (stay: Stay, { told, byDevice }: Fact) => stay.post([told], { as: byDevice ? PUMPS : NURSE });

async function found(stay: Stay, state = "all"): Promise<Json[]> {
  const answer = done(await stay.ledger.findings("stay-1", { state: state as "all" })) as Json;
  return answer.findings;
}

/** A stay of which everything was recorded now, in an order of its own. */
async function recordedNow(facts: readonly Fact[], now: number): Promise<Stay> {
  const stay = await bedside();
  stay.itIs(now);
  for (const fact of facts) await record(stay, fact);
  return stay;
}

describe("a finding", () => {
  it("is the same in whatever order things were recorded", { timeout: PATIENCE }, async () => {
    let some = 0;
    const keys = fc.array(fc.nat(), { minLength: 12, maxLength: 12 });
    const property = fc.asyncProperty(visits(12, 6), keys, async (all, order) => {
      const { facts, now } = await factsOf(all);
      const shuffled = facts
        .map((fact, i) => ({ fact, key: order[i]! }))
        .sort((a, b) => a.key - b.key)
        .map(({ fact }) => fact);
      const [told, otherwise] = [await recordedNow(facts, now), await recordedNow(shuffled, now)];
      const findings = await found(told);
      some += findings.length;
      expect(await found(otherwise)).toEqual(findings);
    });
    await fc.assert(property, runs(10));
    expect(some).toBeGreaterThan(10);
  });

  it("is found again from memory, opened anew and without checkpoints", { timeout: PATIENCE }, async () => {
    const property = fc.asyncProperty(visits(12, 6), async (all) => {
      const { facts, now } = await factsOf(all);
      const stay = await recordedNow(facts, now);
      const findings = await found(stay);
      await stay.reopened();
      expect(await found(stay)).toEqual(findings);
      await stay.withoutCheckpoints();
      expect(await found(stay)).toEqual(findings);
    });
    await fc.assert(property, runs(10));
  });

  it("moves no figure when it is acknowledged, and stays acknowledged", { timeout: PATIENCE }, async () => {
    let some = 0;
    const property = fc.asyncProperty(visits(10, 6), async (all) => {
      const { facts, now } = await factsOf(all);
      const stay = await recordedNow(facts, now);
      const figures = async () => {
        const period = { from: instant(BEGINS), to: instant(now + HOUR) };
        const [{ rows }, { flows, unattributed, unknown }, { channels }] = [
          await stay.volumes(period, { per: "bag" }),
          await stay.flows(period),
          await stay.totals(),
        ];
        return { rows, flows, unattributed, unknown, channels };
      };
      const [was, findings] = [await figures(), await found(stay, "open")];
      for (const { id } of findings) {
        some++;
        done(await stay.ledger.acknowledge(NURSE, "stay-1", id, "Seen at the bedside.", null));
        expect((await found(stay, "acknowledged")).map((one) => one.id)).toContain(id);
      }
      expect(await figures()).toEqual(was);
      expect((await found(stay)).map(({ id, sentence }) => [id, sentence])).toEqual(
        findings.map(({ id, sentence }) => [id, sentence]),
      );
      const oral = { kind: "intake-measured", at: iso(now), category: "oral", volume: 100 };
      await stay.post([oral]);
      expect(await found(stay, "open")).toEqual([]);
    });
    await fc.assert(property, runs(10));
    expect(some).toBeGreaterThan(5);
  });
});
