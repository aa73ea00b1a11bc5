/**
 * Signatures beside moves that are recorded in any order, before and after them: what is offered to somebody is
 * what they may sign; a shift is final where every minute of it has a signature that is still so; findings say
 * the same.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Caller } from "../../src/ledger/ledger.js";
import { iso } from "./deeds.js";
import { type SignedMinute, signedMinutes } from "./signed-minutes.js";
import { EAST, type Json, NURSE, Stay, WEST } from "./stay.js";
import { hang, line, pump, start, void_, when } from "./telling.js";

const LONG = Number(process.env.LONG_PROPERTIES ?? 0);
const PATIENCE = 120_000 * (LONG > 0 ? 10 * LONG : 1);
const RUNS = LONG > 0 ? { numRuns: 120 * LONG } : { numRuns: 14, seed: 20_260_304 };
const MINUTE = 60_000;

const of = (...units: string[]): Caller => ({ ...NURSE, id: `n-${units.join("-")}`, units });
const CALLERS = [of("east"), of("west"), of("east", "west"), NURSE];

const ago = fc.oneof(fc.constantFrom(0, 60, 180, 300), fc.nat({ max: 600 }));
const what = fc.constantFrom<Json>(
  { kind: "intake-measured", category: "oral", volume: 210 },
  { kind: "output-measured", category: "urine", volume: 130 },
  { kind: "rate-changed", channel: "pump-1", rate: 120 },
  { kind: "rate-changed", channel: "pump-1", rate: 60 },
);
const deed = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.record({ does: fc.constant("sign" as const), who: fc.nat({ max: 3 }), which: fc.nat() }),
  },
  { weight: 1, arbitrary: fc.record({ does: fc.constant("sign-all" as const), who: fc.nat({ max: 3 }) }) },
  {
    weight: 2,
    arbitrary: fc.record({ does: fc.constant("move" as const), ago }),
  },
  { weight: 2, arbitrary: fc.record({ does: fc.constant("chart" as const), ago, what }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant("void" as const), which: fc.nat() }) },
);
const passed = fc.integer({ min: 1, max: 180 });
const story = fc.record({
  west: fc.constantFrom({}, { zone: EAST.zone, shifts: EAST.shifts }),
  early: fc.array(fc.tuple(passed, deed), { maxLength: 4 }),
  /** Everything is signed at some time of the first evening, and after that it is said that the patient moved. */
  signedAt: fc.integer({ min: 60, max: 8 * 60 }),
  moved: fc.tuple(passed, fc.record({ does: fc.constant("move" as const), ago })),
  late: fc.array(fc.tuple(passed, deed), { minLength: 2, maxLength: 8 }),
});
type Deed = Awaited<ReturnType<typeof deed.generate>>["value"];

/** A pump that gives a whole mL each minute, so that every figure is exact. */
async function begun(west: object): Promise<Stay> {
  const stay = await Stay.begun();
  await stay.ledger.openUnit(NURSE, { ...WEST, ...west }, null);
  await stay.post([line("07:00"), pump("07:00"), hang("07:00", "b", 5_000), start("07:00", 60)]);
  return stay;
}

async function doDeed(stay: Stay, deed: Deed): Promise<string | null> {
  const names = [...new Set((await signedMinutes(stay)).map(({ piece }) => piece.name))];
  const back = (minutes: number) => iso(stay.now - minutes * MINUTE);
  switch (deed.does) {
    case "sign":
      return (await stay.signs(names[deed.which % names.length]!, CALLERS[deed.who]!)) && "signed";
    case "sign-all":
      for (const name of names) while ((await stay.signs(name, CALLERS[deed.who]!)) !== null);
      return "signed";
    case "move": {
      const at = back(deed.ago);
      const unit = (await stay.ledger.stationsOf("stay-1"))!.stretchAt(when(at)).unit;
      const move = { unit: unit === "east" ? "west" : "east", at };
      return (await stay.ledger.changeEncounter(NURSE, "stay-1", { move })).refused ? null : "moved";
    }
    case "chart":
      await stay.send([{ ...deed.what, at: back(deed.ago) }]);
      return "charted";
    case "void": {
      const charted = (await stay.entries()).filter(({ kind }) => /measured|rate-changed/.test(kind));
      if (charted.length > 0) await stay.send([void_(charted[deed.which % charted.length]!.id)]);
      return "charted";
    }
  }
}

/** Holds the shifts and findings of a stay against how its minutes are signed. */
async function agrees(stay: Stay, callers: readonly Caller[]): Promise<void> {
  const minutes = await signedMinutes(stay);
  const changed = minutes.filter(({ signature, sound }) => signature !== undefined && !sound);
  for (const name of new Set(minutes.map(({ piece }) => piece.name))) {
    const own = minutes.filter(({ piece }) => piece.name === name);
    const { state } = await stay.shift(name);
    const [isFinal, isCorrected] = [
      own.every(({ sound }) => sound),
      own.some((one) => changed.includes(one)),
    ];
    expect([name, state]).toEqual([name, isCorrected ? "corrected" : isFinal ? "final" : "preliminary"]);
    for (const caller of callers) await mayBeSigned(stay, name, caller, isFinal);
  }
  const found = (await stay.findings()).filter(({ state }) => state === "open");
  const of = (code: string) => found.filter((one) => one.code === code);
  expect(
    of("signed-shift-changed")
      .flatMap(({ concerns }) => concerns.entries)
      .sort(),
  ).toEqual([...new Set(changed.map(({ signature }) => signature))].sort());
  expect(
    of("shift-unsigned")
      .map(({ concerns }) => concerns.shift)
      .sort(),
  ).toEqual(
    [...new Set(minutes.filter((one) => isDue(one, stay.now)).map(({ piece }) => piece.name))].sort(),
  );
}

/** Two hours after its end somebody should have signed it. */
function isDue({ signature, piece }: SignedMinute, now: number): boolean {
  return signature === undefined && piece.end + 120 * MINUTE <= now;
}

/** What is offered is taken if it is looked at, and where nothing is offered nothing would be taken. */
async function mayBeSigned(stay: Stay, name: string, caller: Caller, isFinal: boolean): Promise<void> {
  const { toSign, end } = await stay.shift(name, { units: caller.units });
  const to = toSign?.to ?? iso(Math.min(Date.parse(end), stay.now));
  const notLookedAt = { digest: "0".repeat(64), to };
  const { refused } = await stay.ledger.sign(caller, "stay-1", name, notLookedAt, null);
  if (toSign !== null) {
    expect(isFinal).toBe(false);
    expect(refused).toMatchObject({ problem: "digest-changed", members: { digest: toSign.digest } });
  } else {
    expect(["invalid-body", "not-your-time"]).toContain(refused?.problem);
    if (caller.units === null) expect(isFinal || Date.parse(end) > stay.now).toBe(true);
  }
}

describe("what is offered, what is final and what is found", () => {
  it(
    "follow from who signed which minute, and whose it is, however late a move is recorded",
    async () => {
      const done: Record<string, number> = {};
      await fc.assert(
        fc.asyncProperty(story, async ({ west, early, signedAt, moved, late }) => {
          const stay = await begun(west);
          let signed = false;
          const all: [number, Deed] = [signedAt, { does: "sign-all", who: 3 }];
          for (const [later, deed] of [...early, all, moved, ...late]) {
            stay.itIs(stay.now + later * MINUTE);
            const did = await doDeed(stay, deed);
            signed ||= did === "signed";
            const what = did === "moved" && signed ? "moved after a signature" : String(did);
            done[what] = (done[what] ?? 0) + 1;
            if (what === "moved after a signature") await agrees(stay, [NURSE]);
          }
          await agrees(stay, CALLERS);
          expect(stay.ledger.verify()).toMatchObject({ sound: true });
        }),
        RUNS,
      );
      expect(done.signed).toBeGreaterThan(12);
      expect(done["moved after a signature"]).toBeGreaterThan(6);
    },
    PATIENCE,
  );
});
