/** Doing what a story tells: each deed becomes one request to the ledger, a while after the one before. */

import type { Caller } from "../../src/ledger/ledger.js";
import { MINUTE } from "../../src/time/instant.js";
import { parseEntries } from "../../src/wire/entry.js";
import { NURSE, PUMPS, Stay, WEST } from "./stay.js";
import type { Deed, Event } from "./story.js";
import { amend, type Told, void_ } from "./telling.js";

/** Friday 6 March 2026, 07:00 in Chicago; the clocks go forward in the night to the 8th. */
export const BEGINS = Date.parse("2026-03-06T07:00:00-06:00");

/** The stay every story begins with: two pumps that run. */
export async function beginning(): Promise<Stay> {
  const stay = await Stay.begun({
    unit: { settings: { precision: 0.1 } },
    encounter: { admittedAt: iso(BEGINS), admissionWeight: { value: 70, unit: "kg" } },
    now: iso(BEGINS),
  });
  await stay.ledger.openUnit(NURSE, WEST, null);
  const first: Told[] = ["pump-1", "pump-2"].flatMap((channel, i) => [
    named({ kind: "channel-connected", channel, line: i === 0 ? "forearm" : "subclavian" }),
    named({ kind: "bag-hung", channel, bag: i, role: "primary" }),
    named({ kind: "flow-started", channel, rate: 50 }),
  ]);
  await stay.post(
    [{ kind: "line-placed", line: "forearm", label: "Forearm", route: "intravenous" }, ...first].map(
      (told) => ({ ...told, at: iso(BEGINS) }),
    ),
  );
  return stay;
}

/** What a deed is told by: the clock, and what was recorded before. */
export type Recorded = Pick<Stay, "now" | "entries" | "entry">;

/** The entries a deed posts, and who posts them; undefined for a deed that posts none. */
export async function requestOf(
  stay: Recorded,
  deed: Deed,
  number: number,
): Promise<{ readonly entries: readonly Told[]; readonly as: Caller } | undefined> {
  const told = ({ ago, told }: Event): Told => ({ ...named(told), at: iso(stay.now - ago * MINUTE) });
  switch (deed.deed) {
    case "chart": {
      const entries = deed.events.map((event, i) => ({ ...told(event), id: `e-${number}-${i}` }));
      return { entries, as: deed.events[0]!.byDevice ? PUMPS : NURSE };
    }
    case "amend":
    case "void": {
      const before = await stay.entries();
      const target = before[deed.which % before.length];
      if (deed.deed === "void") return { entries: [void_(target.id, { id: `v-${number}` })], as: NURSE };
      const same = (await originalKind(stay, target)) === deed.event.told.kind;
      const at = iso(stay.now - deed.event.ago * MINUTE);
      const replacement = same ? told(deed.event) : { ...replacementOf(before, target), at };
      return { entries: [amend(target.id, replacement, { id: `a-${number}` })], as: NURSE };
    }
    default:
      return undefined;
  }
}

/** Does one deed; what the ledger refuses (a correction of a move, a second discharge) is no part of the story. */
export async function doDeed(stay: Stay, deed: Deed, number: number): Promise<unknown> {
  stay.itIs(stay.now + deed.later * MINUTE);
  const past = (minutes: number) => iso(stay.now - minutes * MINUTE);
  switch (deed.deed) {
    case "chart":
    case "amend":
    case "void": {
      const { entries, as } = (await requestOf(stay, deed, number))!;
      // An amendment of what is no posted fact has no form.
      if (deed.deed === "amend" && !wellFormed(entries)) return "no amendment";
      return stay.send(entries, { as });
    }
    case "move":
      return stay.ledger.changeEncounter(NURSE, "stay-1", { move: { unit: deed.unit, at: past(deed.ago) } });
    case "discharge":
      return stay.ledger.changeEncounter(NURSE, "stay-1", { discharge: { at: past(deed.ago) } });
    case "stay after all":
      return stay.ledger.changeEncounter(NURSE, "stay-1", { dischargedAt: null });
    case "settle":
      return stay.ledger.changeUnit(NURSE, deed.unit, {
        effectiveFrom: past(deed.ago),
        settings: deed.settings,
      });
  }
}

export function wellFormed(entries: readonly Told[]): boolean {
  return parseEntries({ entries }).faults === undefined;
}

async function originalKind(
  stay: Recorded,
  target: { id: string; kind: string; entry?: string },
): Promise<string> {
  let one = target;
  while (one.entry !== undefined) one = await stay.entry(one.entry);
  return one.kind;
}

/** The same fact as the target tells (itself, or its replacement), to be put at another time. */
function replacementOf(before: readonly Told[], target: Told): Told {
  let one = target;
  while (one.kind === "entry-voided") one = before.find(({ id }) => id === one.entry)!;
  const {
    id: _id,
    recorded: _recorded,
    ...fact
  } = (one.kind === "entry-amended" ? one.replacement : one) as Told;
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
  return {
    ...entry,
    volume: LABELS[bag],
    fluid: { name: `Fluid ${bag}`, category: bag % 2 ? "iv-fluid" : "iv-medication" },
  };
}

export function iso(at: number): string {
  return new Date(at).toISOString();
}
