/** The directory: units, and the stays in them. */

import { expect, test } from "vitest";
import type { Stay, Store, Write } from "../../src/store/store.js";
import { answer, minutes, write } from "./entries.js";
import { openLedger } from "./ledger-file.js";

function stay(encounter: string, unit: string, dischargedAt: Stay["dischargedAt"] = null): Stay {
  return {
    encounter,
    unit,
    bed: "4",
    patientIdentifier: `mrn-${encounter}`,
    patientName: null,
    patientSalt: null,
    admittedAt: minutes(0),
    dischargedAt,
  };
}

/** Two units; of four stays two are in intensive care, one of which has ended. */
async function hospital(): Promise<Store> {
  const store = await openLedger();
  const writes: Write[] = [
    { write: "unit", unit: "surgery" },
    { write: "unit", unit: "icu" },
  ];
  const stays = [
    stay("d", "surgery"),
    stay("a", "icu", minutes(9)),
    stay("c", "icu"),
    stay("b", "surgery", minutes(9)),
  ];
  await write(store, [...writes, ...stays.map((one): Write => ({ write: "stay", stay: one }))]);
  return store;
}

async function stays(
  store: Store,
  units: readonly string[] | null,
  open: boolean | null,
  after: string | null = null,
  limit = 9,
) {
  const found = await answer(store, { ask: "stays", units, open, after, limit });
  return found.map(({ encounter }) => encounter);
}

test("units come in order of id, after one, as many as asked for, each once", async () => {
  const store = await hospital();
  await write(store, [{ write: "unit", unit: "icu" }]);
  expect(await answer(store, { ask: "units", after: null, limit: 9 })).toEqual(["icu", "surgery"]);
  expect(await answer(store, { ask: "units", after: null, limit: 1 })).toEqual(["icu"]);
  expect(await answer(store, { ask: "units", after: "icu", limit: 9 })).toEqual(["surgery"]);
});

test("stays come in order of id: all, open or ended, of one unit or of every one", async () => {
  const store = await hospital();
  expect(await stays(store, null, null)).toEqual(["a", "b", "c", "d"]);
  expect(await stays(store, null, true)).toEqual(["c", "d"]);
  expect(await stays(store, null, false)).toEqual(["a", "b"]);
  expect(await stays(store, ["icu"], null)).toEqual(["a", "c"]);
  expect(await stays(store, ["icu"], true)).toEqual(["c"]);
  expect(await stays(store, ["surgery"], false)).toEqual(["b"]);
  expect(await stays(store, ["maternity"], null)).toEqual([]);
});

test("a list goes on after the last one shown", async () => {
  const store = await hospital();
  expect(await stays(store, null, null, null, 3)).toEqual(["a", "b", "c"]);
  expect(await stays(store, null, null, "c", 3)).toEqual(["d"]);
  expect(await stays(store, ["icu"], null, "a")).toEqual(["c"]);
});

test("what the directory says of a stay may be replaced, all of it", async () => {
  const store = await hospital();
  const moved: Stay = {
    encounter: "c",
    unit: "surgery",
    bed: null,
    patientIdentifier: "mrn-2",
    patientName: "A. Example",
    patientSalt: "salt-2",
    admittedAt: minutes(1),
    dischargedAt: minutes(2),
  };
  await write(store, [{ write: "stay", stay: moved }]);
  expect(await answer(store, { ask: "stay", encounter: "c" })).toEqual(moved);
  expect(await answer(store, { ask: "stay", encounter: "a" })).toEqual(stay("a", "icu", minutes(9)));
  expect(await stays(store, ["icu"], null)).toEqual(["a"]);
  expect(await answer(store, { ask: "stay", encounter: "nobody" })).toBeUndefined();
});

test("the unit an encounter is in is the one of its last move, and of nobody there is none", async () => {
  const store = await hospital();
  expect(await store.unitOf("a")).toBe("icu");
  await write(store, [{ write: "stay", stay: stay("a", "surgery") }]);
  expect(await store.unitOf("a")).toBe("surgery");
  expect(await store.unitOf("nobody")).toBeUndefined();
});

test("a stay in a unit that is not there is refused", async () => {
  const store = await hospital();
  await expect(write(store, [{ write: "stay", stay: stay("e", "maternity") }])).rejects.toThrow(
    expect.objectContaining({ code: "SQLITE_CONSTRAINT_FOREIGNKEY" }),
  );
});
