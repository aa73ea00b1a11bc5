/** Shifts in the middle of which the patient moved: each unit signs for its own time, whenever that is known. */

import { describe, expect, test } from "vitest";
import type { Caller } from "../../src/ledger/ledger.js";
import { type Json, NURSE, Stay, WEST } from "./stay.js";
import { at, running, when } from "./telling.js";

const of = (unit: string): Caller => ({ ...NURSE, id: `n-${unit}`, name: `Of ${unit}`, units: [unit] });
const [EAST_NURSE, WEST_NURSE] = [of("east"), of("west")];

const DAY = "2026-03-04/day";
/** Of west: 06:00 to 14:00 and 14:00 to 22:00 in New York, an hour earlier in Chicago. */
const [EARLY, LATE] = ["2026-03-04/early", "2026-03-04/late"];

/** The pump has run since 07:00; of the two units, west has other shifts or the same. */
async function besideWest(shifts: "same" | "other"): Promise<Stay> {
  const stay = await Stay.begun();
  const east = {
    zone: "America/Chicago",
    shifts: [
      { name: "day", starts: "07:00" },
      { name: "night", starts: "19:00" },
    ],
  };
  await stay.ledger.openUnit(NURSE, shifts === "same" ? { ...WEST, ...east } : WEST, null);
  await stay.post(running());
  return stay;
}

const drink = (clock: string) => ({ kind: "intake-measured", at: at(clock), category: "oral", volume: 200 });

async function offered(stay: Stay, name: string, { units }: Caller): Promise<string | null> {
  const { toSign } = await stay.shift(name, { units });
  return toSign === null ? null : spanOf(toSign);
}

const spanOf = ({ from, to }: Json) => `${clockOf(from)}-${clockOf(to)}`;
const clockOf = (text: string) => new Date(Date.parse(text) - 6 * 3_600_000).toISOString().slice(11, 16);

async function signs(stay: Stay, name: string, as: Caller): Promise<string> {
  return spanOf(await stay.signs(name, as));
}

async function codes(stay: Stay): Promise<string[]> {
  const found = await stay.findings();
  return found
    .filter(({ code, state }) => /shift-unsigned|signed-shift/.test(code) && state === "open")
    .map(
      ({ code, concerns }) =>
        `${code} ${concerns.shift} ${spanOf({ from: concerns.start, to: concerns.end })}`,
    );
}

describe("a shift of which both units have a part", () => {
  test("is signed in any order, and again after a correction without the other unit", async () => {
    const stay = await besideWest("same");
    await stay.move("west", "13:00");
    stay.itIs("19:10");
    expect(await signs(stay, DAY, WEST_NURSE)).toBe("13:00-19:00");
    expect((await stay.shift(DAY)).state).toBe("preliminary");
    expect(await offered(stay, DAY, WEST_NURSE)).toBeNull();
    expect(await signs(stay, DAY, EAST_NURSE)).toBe("07:00-13:00");
    expect((await stay.shift(DAY)).state).toBe("final");

    await stay.post([drink("10:00")], { as: EAST_NURSE });
    expect((await stay.shift(DAY)).state).toBe("corrected");
    expect([await offered(stay, DAY, WEST_NURSE), await offered(stay, DAY, EAST_NURSE)]).toEqual([
      null,
      "07:00-13:00",
    ]);
    await stay.signs(DAY, EAST_NURSE);
    const shift = await stay.shift(DAY);
    expect(shift.state).toBe("final");
    expect(shift.signatures.map(({ state, unit }: Json) => [unit, state])).toEqual([
      ["west", "final"],
      ["east", "replaced"],
      ["east", "final"],
    ]);
  });

  test("is one finding while a part is not signed, with what is missing", async () => {
    const stay = await besideWest("same");
    stay.itIs("21:30");
    await stay.move("west", "11:00");
    await stay.move("east", "15:00");
    expect(await codes(stay)).toContain(`shift-unsigned ${DAY} 07:00-19:00`);
    await stay.signs(DAY, WEST_NURSE);
    const sentences = async () =>
      (await stay.findings())
        .filter(({ concerns }) => concerns.shift === DAY)
        .map(({ sentence }) => sentence);
    expect(await sentences()).toContain(
      "Nobody has signed the figures of the shift from 07:00 to 11:00 and from 15:00 to 19:00.",
    );
    expect(await signs(stay, DAY, EAST_NURSE)).toBe("07:00-11:00");
    expect(await signs(stay, DAY, EAST_NURSE)).toBe("15:00-19:00");
    expect((await codes(stay)).filter((one) => one.includes(DAY))).toEqual([]);
  });

  test("lets nobody sign over the end of their unit's time, whatever units they work on", async () => {
    const stay = await besideWest("same");
    await stay.move("west", "13:00");
    stay.itIs("19:10");
    expect(await signs(stay, DAY, NURSE)).toBe("07:00-13:00");
    expect(await signs(stay, DAY, NURSE)).toBe("13:00-19:00");
  });
});

describe("a move recorded after the time was signed", () => {
  /** East signed the whole day shift; then it is recorded that the patient was in west from noon on. */
  async function movedLate(clock = "12:00"): Promise<Stay> {
    const stay = await besideWest("other");
    stay.itIs("19:10");
    expect(await signs(stay, DAY, EAST_NURSE)).toBe("07:00-19:00");
    stay.itIs("21:30");
    await stay.move("west", clock);
    return stay;
  }

  test("leaves what is still of the unit that signed, and the rest is to be signed by whose time it is", async () => {
    const stay = await movedLate();
    const states = async () => {
      const shifts = await Promise.all([DAY, EARLY, LATE].map((name) => stay.shift(name)));
      return shifts.map(({ state }) => state);
    };
    expect(await states()).toEqual(["final", "corrected", "corrected"]);
    expect(await codes(stay)).toContain(`signed-shift-changed ${EARLY} 12:00-19:00`);
    const [lost] = (await stay.findings()).filter(({ code }) => code === "signed-shift-changed");
    expect(lost.sentence).toBe(
      "Of east signed 13:00 to 20:00 at 20:10; since then it is known that the patient was in west.",
    );
    for (const name of [DAY, EARLY, LATE]) expect(await offered(stay, name, EAST_NURSE)).toBeNull();
    expect(await signs(stay, EARLY, WEST_NURSE)).toBe("12:00-13:00");
    expect(await signs(stay, LATE, WEST_NURSE)).toBe("13:00-21:00");
    expect(await states()).toEqual(["final", "final", "final"]);
    expect((await codes(stay)).filter((one) => one.includes("03-04"))).toEqual([]);
    const [of_east] = (await stay.shift(DAY)).signatures;
    expect([of_east.state, of_east.stands.map(spanOf)]).toEqual(["final", ["07:00-12:00"]]);
  });

  test("what the first unit charts late after that is corrected, offered to it and signed", async () => {
    const stay = await movedLate();
    await stay.signs(LATE, WEST_NURSE);
    await stay.post([drink("10:00")], { as: EAST_NURSE });
    expect((await stay.shift(DAY)).state).toBe("corrected");
    expect(await codes(stay)).toContain(`signed-shift-changed ${DAY} 07:00-13:00`);
    expect(await offered(stay, DAY, WEST_NURSE)).toBeNull();
    expect(await signs(stay, DAY, EAST_NURSE)).toBe("07:00-12:00");
    expect((await stay.shift(DAY)).state).toBe("final");
    expect((await stay.shift(LATE)).state).toBe("final");
    expect(await signs(stay, EARLY, WEST_NURSE)).toBe("12:00-13:00");
    expect((await codes(stay)).filter((one) => one.includes("03-04"))).toEqual([]);
  });

  test("in the middle of an hour has both parts of that hour signed, and no more", async () => {
    const stay = await movedLate("12:20");
    const { state, signatures } = await stay.shift(DAY);
    expect(state).toBe("corrected");
    expect(signatures[0].stands).toMatchObject([
      { from: at("07:00"), to: at("12:00"), state: "final" },
      { from: at("12:00"), to: at("12:20"), state: "corrected", lost: "hour-cut" },
    ]);
    expect(await signs(stay, DAY, EAST_NURSE)).toBe("12:00-12:20");
    expect((await stay.shift(DAY)).state).toBe("final");
    expect(await signs(stay, EARLY, WEST_NURSE)).toBe("12:20-13:00");
    expect(await signs(stay, LATE, WEST_NURSE)).toBe("13:00-21:00");
    expect((await codes(stay)).filter((one) => one.includes("03-04"))).toEqual([]);
  });
});

describe("a discharge recorded after the time was signed", () => {
  test("has what changed signed again, beyond the end of the stay as well", async () => {
    const stay = await besideWest("same");
    stay.itIs("19:10");
    await stay.signs(DAY);
    await stay.discharge("15:20");
    expect((await stay.shift(DAY)).state).toBe("corrected");
    expect(await signs(stay, DAY, EAST_NURSE)).toBe("07:00-19:00");
    expect(await stay.shift(DAY)).toMatchObject({ state: "final", toSign: null });
  });

  test("ends what is to be signed", async () => {
    const stay = await besideWest("same");
    await stay.discharge("13:40");
    stay.itIs("19:10");
    expect(await signs(stay, DAY, EAST_NURSE)).toBe("07:00-13:40");
    expect(await stay.shift(DAY)).toMatchObject({ state: "final", toSign: null });
  });
});

describe("what a signature states", () => {
  test("is what nobody measured too, and not that itself was missing", async () => {
    const stay = await besideWest("same");
    await stay.post([{ kind: "output-measured", at: at("10:00"), category: "urine", occurrences: 2 }]);
    stay.itIs("21:30");
    expect((await stay.shift(DAY)).unmeasured).toMatchObject([{ key: "urine", occurrences: 2 }]);
    expect(await codes(stay)).toContain(`shift-unsigned ${DAY} 07:00-19:00`);
    const signed = await stay.signs(DAY);
    expect(signed.unmeasured).toEqual([{ key: "urine", label: expect.any(String), occurrences: 2 }]);
    expect(signed.open.map(({ code }: Json) => code)).not.toContain("shift-unsigned");
    await stay.post([drink("11:00")]);
    const again = await stay.signs(DAY);
    expect(again.open.map(({ code }: Json) => code)).not.toContain("signed-shift-changed");
    const { signatures } = await stay.shift(DAY);
    expect(signatures.map(({ unmeasured }: Json) => unmeasured[0].occurrences)).toEqual([2, 2]);
  });

  test("may not cut an hour that is signed", async () => {
    const stay = await besideWest("same");
    stay.itIs("19:10");
    await stay.signs(DAY);
    await stay.post([drink("10:30")]);
    const { toSign } = await stay.shift(DAY);
    const body = { digest: toSign.digest, remark: "Looked at.", to: at("12:30") };
    const outcome = await stay.ledger.sign(NURSE, "stay-1", DAY, body, null);
    expect(outcome.refused).toMatchObject({ errors: [{ pointer: "#/to", code: "inconsistent" }] });
    expect(when(toSign.to)).toBe(when("19:00"));
  });
});
