/** The demo's story recorded through the ledger: all of it is taken, quickly, and alike each time. */

import { afterEach, describe, expect, it } from "vitest";
import { scenario } from "../../src/demo/scenario.js";
import { contentOf, seed } from "../../src/demo/seed.js";
import { type Caller, Ledger } from "../../src/ledger/ledger.js";
import { openSqlite } from "../../src/store/sqlite.js";
import type { Store } from "../../src/store/store.js";
import { HOUR, type Instant, later, parseInstant } from "../../src/time/instant.js";

const when = (text: string): Instant => parseInstant(text) as Instant;

const IN_THE_MORNING = when("2026-03-04T10:00:00-06:00");
const LAST_MINUTE = when("2026-03-04T18:59:00-06:00");

const opened: Store[] = [];

async function emptyStore(): Promise<Store> {
  const store = await openSqlite(":memory:", { migrate: true });
  opened.push(store);
  return store;
}

async function seeded(now: Instant): Promise<Store> {
  const store = await emptyStore();
  await seed(store, now);
  return store;
}

afterEach(async () => {
  await Promise.all(opened.splice(0).map((store) => store.close()));
});

const ADMINISTRATOR: Caller = {
  id: "a",
  name: "A",
  role: "administrator",
  source: "person",
  unit: null,
};

describe("the story", () => {
  it.each([
    ["at the start of a shift", "2026-03-04T07:00:00-06:00"],
    ["in the morning", "2026-03-04T10:00:00-06:00"],
    ["in the last minute of a day", "2026-03-04T18:59:00-06:00"],
    ["in the last minute of a night", "2026-03-05T06:59:00-06:00"],
    ["over the night the clocks go forward", "2026-03-08T18:59:00-05:00"],
    ["over the night the clocks go back", "2026-11-01T18:59:00-06:00"],
  ])("is taken by the ledger to the last entry, %s", async (_, text) => {
    const now = when(text);
    const store = await seeded(now);
    const { encounters } = scenario(now);
    const stays = new Map(encounters.map((encounter) => [encounter.body.id, encounter]));
    const entries = encounters.flatMap(({ posts }) => posts.flatMap((post) => post.entries)).length;
    const discharges = encounters.flatMap(({ changes }) =>
      changes.filter(({ body }) => "discharge" in body),
    ).length;
    // Beside what people recorded: the opening of the unit, and each stay's admission and discharge.
    const ledger = new Ledger(store, () => now);
    expect(ledger.verify()).toEqual({
      sound: true,
      encounters: stays.size,
      entries: 1 + stays.size + entries + discharges,
    });
  });

  it("is recorded at the moments at which it is told", async () => {
    const store = await seeded(IN_THE_MORNING);
    const told = scenario(IN_THE_MORNING).encounters.flatMap(({ body, posts }) =>
      posts.flatMap(({ recordedAt, entries }) => entries.map(({ id }) => `${body.id} ${id} ${recordedAt}`)),
    );
    const recorded = [...store.everyRow()]
      .filter(({ kind }) => !["unit-opened", "admitted", "discharged"].includes(kind))
      .map(({ chain, id, recordedAt }) => `${chain.replace("encounter/", "")} ${id} ${recordedAt}`);
    expect(recorded.sort()).toEqual(told.sort());
  });

  it("gives every ledger the same digests", async () => {
    const [one, other] = [await seeded(IN_THE_MORNING), await seeded(IN_THE_MORNING)];
    const digests = (store: Store) => [...store.everyRow()].map(({ digest }) => digest);
    expect(digests(other)).toEqual(digests(one));
  });

  it("is recorded within two seconds", async () => {
    const store = await emptyStore();
    const start = performance.now();
    await seed(store, LAST_MINUTE);
    expect(performance.now() - start).toBeLessThan(2_000);
  });
});

describe("a store", () => {
  it("that is new holds nothing", async () => {
    expect(await contentOf(await emptyStore())).toBe("nothing");
  });

  it("holds the demo up to what its nurses recorded last, whatever others add", async () => {
    const store = await seeded(IN_THE_MORNING);
    const { encounters } = scenario(IN_THE_MORNING);
    const last = Math.max(...encounters.flatMap(({ posts }) => posts.map(({ recordedAt }) => recordedAt)));
    expect(await contentOf(store)).toEqual({ upTo: last });
    const ledger = new Ledger(store, () => later(IN_THE_MORNING, HOUR));
    const leaving = { discharge: { at: "2026-03-04T10:55:00-06:00" } };
    const { refused } = await ledger.changeEncounter(ADMINISTRATOR, "demo-a", leaving);
    expect(refused).toBeUndefined();
    expect(await contentOf(store)).toEqual({ upTo: last });
  });

  it("with another unit holds something else", async () => {
    const store = await emptyStore();
    const ledger = new Ledger(store, () => IN_THE_MORNING);
    const shifts = [
      { name: "day", starts: "07:00" },
      { name: "night", starts: "19:00" },
    ];
    const unit = { id: "east-4", name: "East 4", zone: "America/Chicago", shifts };
    expect((await ledger.openUnit(ADMINISTRATOR, unit, null)).refused).toBeUndefined();
    expect(await contentOf(store)).toBe("something else");
  });
});
