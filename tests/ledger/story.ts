/**
 * Random stories of a stay, told request by request over several days and the night the clocks change:
 * charting near now, late and very late, corrections of anything and corrections of those, moves, changes
 * of settings, a discharge. A story names times by how long ago they were and entries by how many there
 * are, so that any part of it is a story too.
 */

import fc from "fast-check";
import { MINUTE } from "../../src/time/instant.js";
import { amend, EAST, NURSE, PUMPS, Stay, type Told, void_ } from "./stay.js";

/** One entry as told: `ago` in minutes before the request, below 0 ahead of it. */
interface Event {
  readonly ago: number;
  readonly told: Told;
  readonly byDevice: boolean;
}

export type Deed =
  | { readonly deed: "chart"; readonly later: number; readonly events: readonly Event[] }
  | { readonly deed: "amend"; readonly later: number; readonly which: number; readonly event: Event }
  | { readonly deed: "void"; readonly later: number; readonly which: number }
  | { readonly deed: "move"; readonly later: number; readonly unit: string; readonly ago: number }
  | {
      readonly deed: "settle";
      readonly later: number;
      readonly unit: string;
      readonly ago: number;
      readonly settings: Told;
    }
  | { readonly deed: "discharge"; readonly later: number; readonly ago: number };

const HOURS = 60;
const DAYS = 24 * HOURS;

/** Friday 6 March 2026, 07:00 in Chicago; the clocks go forward in the night to the 8th. */
export const BEGINS = Date.parse("2026-03-06T07:00:00-06:00");

const ago = fc.oneof(
  { weight: 6, arbitrary: fc.nat({ max: 2 * HOURS }) },
  { weight: 3, arbitrary: fc.nat({ max: 14 * HOURS }) },
  { weight: 2, arbitrary: fc.nat({ max: 4 * DAYS }) },
);
const later = fc.oneof(fc.integer({ min: 1, max: 3 * HOURS }), fc.integer({ min: 1, max: 20 * HOURS }));

const rate = fc.integer({ min: 1, max: 3_000 }).map((tenths) => tenths / 10);
const volume = fc.integer({ min: 1, max: 500 });
const channel = fc.constantFrom("pump-1", "pump-2");
const bag = fc.nat({ max: 3 });
const limit = fc.option(fc.oneof(volume, fc.constant("none")), { nil: undefined });

function kinds(): fc.Arbitrary<Told> {
  const of = (weight: number, kind: string, more: Record<string, fc.Arbitrary<unknown>>) => ({
    weight,
    arbitrary: fc.record({ kind: fc.constant(kind), ...more }) as fc.Arbitrary<Told>,
  });
  return fc.oneof(
    of(5, "flow-started", { channel, rate, volumeToInfuse: limit, keepOpenRate: fc.option(rate, { nil: undefined }) }),
    of(6, "rate-changed", { channel, rate }),
    of(2, "rate-changed", { channel, role: fc.constant("secondary"), rate: fc.constantFrom(200, "unknown") }),
    of(2, "flow-paused", { channel }),
    of(3, "flow-resumed", { channel }),
    of(1, "flow-stopped", { channel }),
    of(3, "secondary-started", { channel, rate, volumeToInfuse: volume }),
    of(2, "bolus-started", { channel, rate, volume }),
    of(5, "bag-hung", { channel, bag, role: fc.constantFrom("primary", "secondary") }),
    of(1, "bag-taken-down", { bag }),
    of(1, "bag-adjusted", { bag, volume: volume.map((v) => -v), reason: fc.constant("withdrawn") }),
    of(2, "total-read", { channel, total: fc.constantFrom("primary", "secondary"), volume }),
    of(1, "therapy-changed", { channel }),
    of(2, "channel-connected", { channel, line: fc.constantFrom("forearm", "subclavian") }),
    of(1, "channel-disconnected", { channel }),
    of(1, "away-started", { place: fc.constant("theatre"), flows: fc.constant("unknown") }),
    of(1, "away-ended", {}),
    of(2, "intake-measured", { category: fc.constant("oral"), volume }),
    of(1, "weight-measured", { weight: fc.record({ value: fc.integer({ min: 40, max: 90 }), unit: fc.constant("kg") }) }),
    of(2, "flow-started", {
      channel,
      dose: fc.record({ value: fc.integer({ min: 1, max: 9 }), unit: fc.constantFrom("mL/kg/h", "mL/h") }),
    }),
  );
}

const event: fc.Arbitrary<Event> = fc.record({
  ago,
  told: kinds(),
  byDevice: fc.constant(false),
});
const unit = fc.constantFrom("east", "west");
const settings = fc.oneof(
  fc.record({ overfillAllowance: fc.constantFrom(0, 0.2, 1) }),
  fc.record({ endConfirmedWithin: fc.constantFrom("PT0S", "PT2H") }),
  fc.record({ precision: fc.constantFrom(0.001, 1, 10) }),
);

const deed: fc.Arbitrary<Deed> = fc.oneof(
  { weight: 12, arbitrary: fc.record({ deed: fc.constant("chart" as const), later, events: fc.array(event, { minLength: 1, maxLength: 4 }) }) },
  { weight: 2, arbitrary: fc.record({ deed: fc.constant("chart" as const), later, events: fc.array(fc.record({ ago: fc.integer({ min: -3 * HOURS, max: 60 }), told: kinds(), byDevice: fc.constant(true) }), { minLength: 1, maxLength: 2 }) }) },
  { weight: 5, arbitrary: fc.record({ deed: fc.constant("amend" as const), later, which: fc.nat({ max: 40 }), event }) },
  { weight: 4, arbitrary: fc.record({ deed: fc.constant("void" as const), later, which: fc.nat({ max: 40 }) }) },
  { weight: 1, arbitrary: fc.record({ deed: fc.constant("move" as const), later, unit, ago }) },
  { weight: 2, arbitrary: fc.record({ deed: fc.constant("settle" as const), later, unit, ago: fc.oneof(ago, fc.integer({ min: -DAYS, max: 0 })), settings }) },
  { weight: 1, arbitrary: fc.record({ deed: fc.constant("discharge" as const), later, ago: fc.nat({ max: 600 }) }) },
);

export const story = (most: number): fc.Arbitrary<readonly Deed[]> => fc.array(deed, { minLength: 3, maxLength: most });

/** The stay every story begins with: two pumps that run. */
export async function beginning(): Promise<Stay> {
  const stay = await Stay.begun({
    unit: { settings: { precision: 0.1 } },
    encounter: { admittedAt: iso(BEGINS), admissionWeight: { value: 70, unit: "kg" } },
    now: iso(BEGINS),
  });
  const west = { ...EAST, id: "west", zone: "America/New_York", shifts: [{ name: "early", starts: "06:00" }, { name: "late", starts: "14:00" }, { name: "night", starts: "22:00" }] };
  await stay.ledger.openUnit(NURSE, west, null);
  const first: Told[] = ["pump-1", "pump-2"].flatMap((channel, i) => [
    named({ kind: "channel-connected", channel, line: i === 0 ? "forearm" : "subclavian" }),
    named({ kind: "bag-hung", channel, bag: i, role: "primary" }),
    named({ kind: "flow-started", channel, rate: 50 }),
  ]);
  await stay.post([
    { kind: "line-placed", line: "forearm", label: "Forearm", route: "intravenous" },
    ...first,
  ].map((told) => ({ ...told, at: iso(BEGINS) })));
  return stay;
}

/** Does one deed; what the ledger refuses (a correction of a move, a second discharge) is no part of the story. */
export async function doDeed(stay: Stay, deed: Deed, number: number): Promise<unknown> {
  stay.itIs(stay.now + deed.later * MINUTE);
  const past = (minutes: number) => iso(stay.now - minutes * MINUTE);
  const told = ({ ago, told }: Event): Told => ({ ...named(told), at: past(ago) });
  switch (deed.deed) {
    case "chart": {
      const entries = deed.events.map((event, i) => ({ ...told(event), id: `e-${number}-${i}` }));
      return stay.send(entries, { as: deed.events[0]!.byDevice ? PUMPS : NURSE });
    }
    case "amend":
    case "void": {
      const before = await stay.entries();
      const target = before[deed.which % before.length];
      if (deed.deed === "void") return stay.send([void_(target.id, { id: `v-${number}` })]);
      const kind = await originalKind(stay, target);
      const replacement = kind === deed.event.told.kind ? told(deed.event) : { ...replacementOf(before, target), at: past(deed.event.ago) };
      return stay.send([amend(target.id, replacement, { id: `a-${number}` })]).catch((error) => {
        if (String(error).includes("badly formed")) return "no amendment";
        throw error;
      });
    }
    case "move":
      return stay.ledger.changeEncounter(NURSE, "stay-1", { move: { unit: deed.unit, at: past(deed.ago) } });
    case "discharge":
      return stay.ledger.changeEncounter(NURSE, "stay-1", { discharge: { at: past(deed.ago) } });
    case "settle":
      return stay.ledger.changeUnit(NURSE, deed.unit, { effectiveFrom: past(deed.ago), settings: deed.settings });
  }
}

async function originalKind(stay: Stay, target: { id: string; kind: string; entry?: string }): Promise<string> {
  let one = target;
  while (one.entry !== undefined) one = await stay.entry(one.entry);
  return one.kind;
}

/** The same fact as the target tells (itself, or its replacement), to be put at another time. */
function replacementOf(before: readonly Told[], target: Told): Told {
  let one = target;
  while (one.kind === "entry-voided") one = before.find(({ id }) => id === one.entry)!;
  const { id: _id, recorded: _recorded, ...fact } = (one.kind === "entry-amended" ? one.replacement : one) as Told;
  return fact;
}

const LABELS = [500, 1_000, 250, 100];

/** Gives a channel and a bag what it always has, and leaves out what is not said. */
function named(told: Told): Told {
  const entry: Told = Object.fromEntries(Object.entries(told).filter(([, value]) => value !== undefined));
  if (entry.kind === "channel-connected") return { ...entry, type: "pump", rateStep: 0.1 };
  if (typeof entry.bag !== "number") return entry;
  const bag = entry.bag;
  entry.bag = `bag-${bag}`;
  if (entry.kind !== "bag-hung") return entry;
  return { ...entry, volume: LABELS[bag], fluid: { name: `Fluid ${bag}`, category: bag % 2 ? "iv-fluid" : "iv-medication" } };
}

export function iso(at: number): string {
  return new Date(at).toISOString();
}
