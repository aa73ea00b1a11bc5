/**
 * Fills a ledger with the demo's scenario by recording it through the ledger itself, each request with
 * the clock set to the moment of the story at which somebody made it.
 *
 * Invariant: the same instant fills every empty ledger with the same chains, digest for digest.
 */

import { type Caller, Ledger } from "../ledger/ledger.js";
import { recordedFrom } from "../ledger/record.js";
import type { Outcome } from "../ledger/refusal.js";
import { ask, type Store } from "../store/store.js";
import { type Instant, latest } from "../time/instant.js";
import { ChartBody } from "../wire/charts.js";
import { EncounterBody, EncounterPatch } from "../wire/encounters.js";
import { parseEntries } from "../wire/entry.js";
import type { Fault } from "../wire/fault.js";
import { parse } from "../wire/parse.js";
import { UnitBody } from "../wire/units.js";
import { type Author, type Post, type ScenarioEncounter, scenario } from "./scenario.js";
import { UNIT } from "./telling.js";

/** Who records the story. Nobody here is a real person, and the names say so. */
const CALLERS: Readonly<Record<Author, Caller>> = {
  "nurse-day": nurse("nurse-day", "Dana Daytime (invented)"),
  "nurse-night": nurse("nurse-night", "Nico Nighttime (invented)"),
  "charge-nurse": { ...nurse("charge-nurse", "Charlie Charge (invented)"), role: "charge-nurse" },
  device: { id: "device", name: "Demo devices (invented)", role: "device", source: "device", units: null },
};

const OPENER: Caller = {
  id: "demo",
  name: "The demo",
  role: "administrator",
  source: "person",
  units: null,
};

function nurse(id: Author, name: string): Caller {
  return { id, name, role: "nurse", source: "person", units: null };
}

/** One request of the story. */
interface Step {
  readonly recordedAt: Instant;
  /** For the message when it is refused, which no request of the story may be. */
  readonly what: string;
  readonly ask: (ledger: Ledger) => Promise<Outcome<unknown>>;
}

/**
 * Records the scenario of `now` into a store that holds no unit yet.
 * Throws an Error that names the first request the ledger refuses.
 */
export async function seed(store: Store, now: Instant): Promise<void> {
  let clock = now;
  let ids = 0;
  const ledger = new Ledger(
    store,
    () => clock,
    () => `demo-${++ids}`,
  );
  // All are asked before any is answered: waiting together they share one commit and one flush to disk.
  const outcomes = stepsOf(now).map(async (step) => {
    clock = step.recordedAt;
    const { refused } = await step.ask(ledger);
    if (refused !== undefined) throw new Error(`the demo's ${step.what}: ${JSON.stringify(refused)}`);
  });
  await Promise.all(outcomes);
}

/** Everything to be recorded, in order of recording; the unit first. */
function stepsOf(now: Instant): Step[] {
  const { unit, encounters } = scenario(now);
  const steps = encounters.flatMap(stepsOfStay).sort((a, b) => a.recordedAt - b.recordedAt);
  const opening: Step = {
    recordedAt: steps[0]?.recordedAt ?? now,
    what: `unit ${unit.id}`,
    ask: (ledger) => ledger.openUnit(OPENER, sound(parse(UnitBody, unit)).value, null),
  };
  return [opening, ...steps];
}

function stepsOfStay({ body, posts, changes, charts }: ScenarioEncounter): Step[] {
  const admittedAt = Date.parse(body.admittedAt) as Instant;
  const admission: Step = {
    recordedAt: admittedAt,
    what: `admission ${body.id}`,
    ask: (ledger) => ledger.admit(OPENER, sound(parse(EncounterBody, body)).value, null),
  };
  const turns = changes.map(
    (change): Step => ({
      recordedAt: change.recordedAt,
      what: `change of ${body.id}`,
      ask: (ledger) => {
        const { value } = sound(parse(EncounterPatch, change.body));
        return ledger.changeEncounter(CALLERS[change.by], body.id, value);
      },
    }),
  );
  const kept = charts.map(
    (chart): Step => ({
      recordedAt: chart.recordedAt,
      what: `chart ${chart.body.id} of ${body.id}`,
      ask: (ledger) => {
        const { value } = sound(parse(ChartBody, chart.body));
        return ledger.keepChart(CALLERS[chart.by], body.id, value, null);
      },
    }),
  );
  return [admission, ...posts.map((post) => recordingOf(body.id, post)), ...turns, ...kept];
}

function recordingOf(encounter: string, post: Post): Step {
  return {
    recordedAt: post.recordedAt,
    what: `entries of ${encounter} from ${post.entries[0]?.id}`,
    ask: (ledger) => {
      const { entries } = sound(parseEntries({ entries: post.entries }));
      const posted = entries.map((entry, place) => ({ sent: post.entries[place], entry }));
      return ledger.record(
        CALLERS[post.by],
        encounter,
        { posted, ifMatch: null, dryRun: false, queued: false, reads: true },
        null,
      );
    },
  };
}

/** What was parsed; throws an Error with the faults, if there are any. */
function sound<T extends { readonly faults?: readonly Fault[] | undefined }>(
  parsed: T,
): Exclude<T, { readonly faults: readonly Fault[] }> {
  if (parsed.faults !== undefined) throw new Error(`the demo's bodies: ${JSON.stringify(parsed.faults)}`);
  return parsed as Exclude<T, { readonly faults: readonly Fault[] }>;
}

/**
 * What a store holds: nothing, the demo as told up to an instant (the last at which one of its nurses or
 * devices recorded something), or something else.
 */
export async function contentOf(store: Store): Promise<"nothing" | "something else" | { upTo: Instant }> {
  const units = await store.read(() => ask({ ask: "units", after: null, limit: 1 }));
  if (units.length === 0) return "nothing";
  const demo = await store.read(() => ask({ ask: "head", chain: `unit/${UNIT.id}` }));
  if (demo.sequence === 0) return "something else";
  let upTo = demo.recordedAt;
  for (const row of store.everyRow()) {
    if (recordedFrom(row.text).by.id in CALLERS) upTo = latest(upTo, row.recordedAt);
  }
  return { upTo };
}
