/** What the sentence about a figure says where nothing, or nothing certain, ran: that it is true. */

import { describe, expect, it } from "vitest";
import type { ExplanationQuery } from "../../src/ledger/explanation.js";
import { read } from "./asking.js";
import { done, type Json, Stay } from "./stay.js";
import { hang, line, on, pump, running, start, when } from "./telling.js";

/** Why a row shows what it does from one time to another; the forearm unless told otherwise. */
async function why(
  stay: Stay,
  from: string,
  to: string,
  row: Partial<Pick<ExplanationQuery, "per" | "row">> = {},
): Promise<Json> {
  const period = { from: when(from), to: when(to) };
  return done(await stay.ledger.explanation("stay-1", { period, per: "line", row: "forearm", ...row }));
}

const because = ({ sentence }: Json) => sentence.split(" mL, since ")[1];

describe("the primary's bag while something else runs on its channel", () => {
  const saline = { per: "bag", row: "saline-1" } as const;
  // 100 mL at 50 mL/h: from 08:00 to 10:00.
  const secondary = [
    hang("08:00", "dose", 100, {
      role: "secondary",
      fluid: { name: "Antibiotic", category: "iv-medication" },
    }),
    on("08:00", "secondary-started", { id: "second", rate: 50, whenDone: "resume-primary" }),
  ];

  it.each([saline, { per: "category", row: "iv-fluid" } as const])(
    "waited for the secondary ($per)",
    async (row) => {
      const stay = await Stay.running(...secondary);
      const told = await why(stay, "08:30", "09:30", row);
      expect([told.volume, because(told)]).toEqual([
        0,
        "it waited on pump-1 for the secondary that started at 08:00.",
      ]);
      expect(told.held).toEqual([
        { channel: "pump-1", how: "other-source", since: "2026-03-04T08:00:00-06:00", by: "second" },
      ]);
      expect(told.entries).toContain("second");
    },
  );

  it("waited for it also where it began long before the shift", async () => {
    const stay = await Stay.begun();
    await stay.post([
      ...running(),
      hang("08:00", "long", 1_000, { role: "secondary" }),
      on("08:00", "secondary-started", { id: "second", rate: 20, whenDone: "resume-primary" }),
    ]);
    stay.itIs("5 20:00");
    // The primary runs again for an hour, so that its bag has a row in the shift.
    await stay.post([on("5 08:00", "secondary-ended"), on("5 09:00", "secondary-started", { rate: 20 })]);
    const told = await why(stay, "5 07:00", "5 08:00", saline);
    expect(because(told)).toBe("it waited on pump-1 for the secondary that started at 08:00 on 2026-03-04.");
  });

  it("is told of a bag that came down before, too, and did not wait", async () => {
    const down = {
      ...on("09:00", "bag-taken-down", { bag: "saline-1", remaining: 850 }),
      channel: undefined,
    };
    const stay = await Stay.running(JSON.parse(JSON.stringify(down)), hang("09:00", "saline-2", 500));
    await stay.post([start("09:05", 75, { id: "again" })]);
    expect(because(await why(stay, "10:00", "11:00", saline))).toBe(
      "pump-1 gave something else that started at 09:05.",
    );
  });
});

describe("what ran at a rate nobody knows", () => {
  it("is shared evenly, once it is read, and has no rate", async () => {
    const stay = await Stay.begun();
    const [placed, connected, bag] = running();
    // 137 mL in two hours.
    await stay.post([placed!, connected!, bag!, start("07:00", 1, { rate: "unknown" }), read("09:00", 137)]);
    const told = await why(stay, "08:00", "09:00");
    expect([told.volume, told.deliveries.map(({ rate }: Json) => rate)]).toEqual([68.5, [null]]);
    expect(because(told)).toMatch(
      /^nobody knows at what rate it ran for 1 h: what was read is shared evenly over the time; the reading at 09:00/,
    );
  });

  it("nor while the patient was away with flows unknown, beside what is known", async () => {
    const away = (clock: string, kind: string, more = {}) => {
      const { channel: _, ...entry } = on(clock, kind, more);
      return entry;
    };
    const stay = await Stay.running(
      away("08:00", "away-started", { place: "imaging", flows: "unknown" }),
      away("08:30", "away-ended"),
      read("09:00", 145),
    );
    const told = await why(stay, "08:00", "09:00");
    expect(because(told)).toMatch(/^it ran 30 min at 75 mL\/h; nobody knows at what rate it ran for 30 min/);
  });
});

describe("a metered channel, read at 09:00 for the two hours before", () => {
  const total = { total: "combined", id: "second" };
  async function fed(now: string): Promise<Stay> {
    const stay = await Stay.begun({ now });
    const feed = pump("07:00", { type: "metered", totals: "combined" });
    await stay.post([line("07:00"), feed]);
    if (now >= "09:00") await stay.post([read("09:00", 50, total)]);
    return stay;
  }
  const shown = async (stay: Stay) => {
    const { rows } = await stay.volumes({ from: when("07:00"), to: when("10:00") }, { by: "hour" });
    const [{ volumes, basis, unknown, since }] = rows;
    return { volumes, basis, unknown, since };
  };

  it("stands at 09:00 as a whole: the hour before rests on that reading, and is no computed zero", async () => {
    const stay = await fed("09:00");
    expect(await shown(stay)).toEqual({
      volumes: [0, 50, null],
      basis: ["apportioned", "apportioned", null],
      unknown: [0, 0, 0],
      since: [null, "2026-03-04T07:00:00-06:00", null],
    });
    const before = await why(stay, "07:00", "08:00");
    expect([before.volume, before.basis, because(before)]).toEqual([
      0,
      "apportioned",
      "what pump-1 counted from 07:00 stands at its reading at 09:00.",
    ]);
    expect(before.entries).toContain("second");
    expect(before.readings).toMatchObject([{ entry: "second", delivered: 50 }]);
    const at = await why(stay, "08:00", "09:00");
    expect([at.volume, because(at)]).toEqual([
      50,
      "pump-1 counted 50 mL from 07:00 to 09:00, and all of it stands at the reading.",
    ]);
  });

  it("is unknown for so long as nobody has read it", async () => {
    const stay = await fed("08:30");
    const { basis, unknown } = await shown(stay);
    expect([basis, unknown]).toEqual([
      ["unknown", "unknown", null],
      [60, 30, 0],
    ]);
  });

  it("that counted nothing says so", async () => {
    const stay = await fed("09:00");
    stay.itIs("12:00");
    await stay.post([read("11:00", 50, { ...total, id: "third" })]);
    expect(because(await why(stay, "10:00", "11:00"))).toBe("the reading at 11:00 says 0 mL since 09:00.");
  });
});

describe("a reading far below what ran", () => {
  it("says that the rest comes off what flowed last", async () => {
    const stay = await Stay.begun({ now: "11:00" });
    await stay.post([...running(), read("11:00", 100, { confirmed: true })]);
    const told = await why(stay, "08:00", "09:00");
    expect([told.volume, because(told)]).toEqual([
      25,
      "it ran 1 h at 75 mL/h; the reading at 11:00 says 100 mL since 07:00 where 300 mL were computed, " +
        "which is in dispute; what was read is so much less that the difference comes off what flowed last.",
    ]);
  });
});
