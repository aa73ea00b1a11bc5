/** The demo's story recorded through the ledger: all of it is taken, quickly, and alike each time. */

import { afterEach, describe, expect, it } from "vitest";
import { type Post, scenario } from "../../src/demo/scenario.js";
import { contentOf, seed } from "../../src/demo/seed.js";
import { UNIT } from "../../src/demo/telling.js";
import { type Caller, Ledger } from "../../src/ledger/ledger.js";
import { openSqlite } from "../../src/store/sqlite.js";
import type { Store } from "../../src/store/store.js";
import { HOUR, type Instant, later, parseInstant } from "../../src/time/instant.js";
import { EncounterBody } from "../../src/wire/encounters.js";
import { parseEntries } from "../../src/wire/entry.js";
import { parse } from "../../src/wire/parse.js";
import { UnitBody } from "../../src/wire/units.js";
import { done } from "../ledger/stay.js";

const when = (text: string): Instant => parseInstant(text) as Instant;

const IN_THE_MORNING = when("2026-03-04T10:00:00-06:00");
const LAST_MINUTE = when("2026-03-04T18:59:00-06:00");

/** What each story leaves to look at: code, channel and the entry or shift it hangs on. */
const TO_LOOK_AT: Readonly<Record<string, readonly string[]>> = {
  "demo-a": [],
  "demo-b": [
    // A therapy programmed before anybody read the total, and said so.
    "totals-lost~pump-1~1-0700-therapy-pump-1 note",
    // A bag that gave all of its overfill in the night; the reading half an hour later says that it was all.
    "bag-overdrawn~pump-1~1-0700-hang-dextrose-1 note",
  ],
  // Nobody read the heparin at the end of the second shift.
  "demo-c": ["no-reading-at-shift-end~pump-1~2026-03-03:night attention"],
  // The paper sheet that was copied has four slips, the largest of 360 mL.
  "demo-d": ["chart-differs~-~paper-first-shift attention"],
  "demo-e": [
    // What a clear that only the device reported lost, less what a late reading saved of it.
    "totals-lost~pump-1~2-0600-reset-pump-1 attention",
    "late-entry~-~2026-03-03:night:nurse-night note",
  ],
  // The formula ends within a quarter of an hour, four hours after its total was read.
  "demo-f": ["totals-at-risk~feed-1~3-0800-read-feed-1-combined attention"],
  // The rate change that explains a confirmed reading was charted late; of the reading nothing is left.
  "demo-g": ["late-entry~-~2026-03-03:day:nurse-night note"],
  "demo-h": [],
  "demo-i": [
    // Totals that were found cleared, and said so later.
    "totals-lost~pump-1~2-0310-reset-pump-1 note",
    "late-entry~-~2026-03-03:night:nurse-night note",
  ],
};

/** Nobody in the story signs; the shift that runs still may be. */
const UNSIGNED = ["day", "night"].map((shift) => `shift-unsigned~-~2026-03-03:${shift} attention`);

interface FindingList {
  readonly findings: readonly { readonly id: string; readonly severity: string }[];
}

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
  units: null,
};

const NURSE: Caller = { id: "n", name: "N", role: "nurse", source: "person", units: null };

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
    const charts = encounters.flatMap(({ charts }) => charts).length;
    // Beside what people recorded: the opening of the unit, and each stay's admission and discharge.
    const ledger = new Ledger(store, () => now);
    expect(ledger.verify()).toEqual({
      sound: true,
      encounters: stays.size,
      entries: 1 + stays.size + entries + discharges + charts,
      unheld: 0,
    });
  });

  it("is recorded at the moments at which it is told", async () => {
    const store = await seeded(IN_THE_MORNING);
    const told = scenario(IN_THE_MORNING).encounters.flatMap(({ body, posts }) =>
      posts.flatMap(({ recordedAt, entries }) => entries.map(({ id }) => `${body.id} ${id} ${recordedAt}`)),
    );
    const recorded = [...store.everyRow()]
      .filter(({ kind }) => !["unit-opened", "admitted", "discharged", "chart-posted"].includes(kind))
      .map(({ chain, id, recordedAt }) => `${chain.replace("encounter/", "")} ${id} ${recordedAt}`);
    expect(recorded.sort()).toEqual(told.sort());
  });

  it("leaves to be found what its nurses left open, and nothing else", async () => {
    const ledger = new Ledger(await seeded(LAST_MINUTE), () => LAST_MINUTE);
    const found: Record<string, string[]> = {};
    for (const { body } of scenario(LAST_MINUTE).encounters) {
      const { findings } = done(await ledger.findings(body.id, { state: "open" })) as FindingList;
      found[body.id] = findings.map(({ id, severity }) => `${id} ${severity}`);
    }
    const all = Object.entries(TO_LOOK_AT).map(([stay, own]) => [stay, [...own, ...UNSIGNED].sort()]);
    for (const own of Object.values(found)) own.sort();
    expect(found).toEqual(Object.fromEntries(all));
  });

  // What the nurse was asked, as the story tells the answer.
  it.each([
    ["demo-b", "1-0700-therapy-pump-1", "leaveUncaptured", "totals-at-risk"],
    ["demo-g", "1-1200-read-pump-2-primary", "confirmed", "reading-disagrees"],
    ["demo-i", "2-0600-read-pump-1-primary", "confirmed", "reading-disagrees"],
  ])("has the nurse of %s answer for %s what is asked without its %s", async (stay, id, answer, problem) => {
    const { body, posts } = scenario(LAST_MINUTE).encounters.find(({ body }) => body.id === stay)!;
    const place = posts.findIndex(({ entries }) => entries.some((entry) => entry.id === id));
    let clock = Date.parse(body.admittedAt);
    const ledger = new Ledger(await emptyStore(), () => clock);
    await ledger.openUnit(ADMINISTRATOR, parse(UnitBody, UNIT).value!, null);
    await ledger.admit(NURSE, parse(EncounterBody, body).value!, null);
    const record = ({ recordedAt }: Post, entries: Post["entries"], queued: boolean) => {
      clock = recordedAt;
      const posted = parseEntries({ entries }).entries!.map((entry, i) => ({ sent: entries[i], entry }));
      return ledger.record(NURSE, stay, { posted, ifMatch: null, dryRun: false, queued, reads: true }, null);
    };
    for (const before of posts.slice(0, place)) await record(before, before.entries, true);
    const unanswered = posts[place]!.entries.map((entry) => {
      const { [answer]: _, ...rest } = entry;
      return entry.id === id ? rest : entry;
    });
    expect((await record(posts[place]!, unanswered, false)).refused?.problem).toBe(problem);
  });

  it("gives every ledger the same digests", async () => {
    const [one, other] = [await seeded(IN_THE_MORNING), await seeded(IN_THE_MORNING)];
    const digests = (store: Store) => [...store.everyRow()].map(({ digest }) => digest);
    expect(digests(other)).toEqual(digests(one));
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
