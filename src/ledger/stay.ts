/**
 * The facts of a stay that are no clinical entries: when it began, where the patient was, and the
 * conventions that held. They stand in the encounter's own chain, so that it alone determines every
 * figure, and as-of answers need no other.
 */

import { type Conventions, conventionsOf, type SettingsChange, type Station } from "../conventions/dated.js";
import type { Settings } from "../conventions/settings.js";
import { ask, type Chain, type Inquiry, type Row } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { type ShiftSpan, shiftAt } from "../time/shifts.js";
import { readInstant } from "../wire/instant.js";
import { decodeSettings, decodeSomeSettings } from "../wire/settings-codec.js";
import type { AdmittedText, ChangeText, StationText } from "../wire/stored.js";
import { recordedOf, statesOf } from "./families.js";
import { remembering } from "./remembering.js";

/** The kinds of a chain's entries that these facts are read from. */
const STAY_KINDS = ["admitted", "moved", "discharged", "settings-changed"] as const;

export interface StayFacts {
  readonly admittedAt: Instant;
  readonly dischargedAt: Instant | null;
  readonly admissionWeight: AdmittedText["weight"] | undefined;
  readonly conventions: Conventions;
  readonly stations: readonly Station[];
}

/** The facts of a stay as of a sequence; undefined where the chain has no admission by then. */
export function* stayFacts(chain: Chain, upTo: number): Inquiry<StayFacts | undefined> {
  const rows = yield* ask({ ask: "kinds", chain, kinds: STAY_KINDS, upTo });
  return stayFactsOf(rows);
}

/** The same from the rows of those kinds, in order of sequence. */
export function stayFactsOf(rows: readonly Row[]): StayFacts | undefined {
  const stations: Station[] = [];
  let admittedAt: Instant | null = null;
  let dischargedAt: Instant | null = null;
  let admissionWeight: AdmittedText["weight"];
  const states = rows.some(({ root }) => root !== null) ? statesOf(rows) : undefined;
  for (const row of rows) {
    if (states?.get(row.sequence) === "voided") continue;
    const { body } = recordedOf(row);
    switch (body.kind) {
      case "admitted":
      case "moved": {
        const from = readInstant(body.at);
        if (body.kind === "admitted") {
          admittedAt = from;
          admissionWeight = body.weight;
        }
        stations.push(stationOf(row, from, body.unit, body));
        break;
      }
      case "settings-changed":
        for (const [i, station] of stations.entries()) {
          if (station.unit !== body.unit) continue;
          stations[i] = { ...station, changes: [...station.changes, changeOf(body)] };
        }
        break;
      case "discharged":
        dischargedAt = readInstant(body.at);
        break;
    }
  }
  if (admittedAt === null) return undefined;
  return { admittedAt, dischargedAt, admissionWeight, stations, conventions: conventionsOf(stations) };
}

const settingsOf = remembering(
  (row: Row): Settings => decodeSettings((recordedOf(row).body as StationText).settings),
);

function stationOf(row: Row, from: Instant, unit: string, body: StationText): Station {
  return {
    from,
    unit,
    zone: body.zone,
    shifts: body.shifts,
    settings: settingsOf(row),
    changes: body.changes.map(changeOf),
  };
}

export function changeOf(change: ChangeText): SettingsChange {
  return {
    effectiveFrom: readInstant(change.effectiveFrom),
    settings: decodeSomeSettings(change.settings ?? {}),
    ...(change.shifts === undefined ? {} : { shifts: change.shifts }),
  };
}

/** The shift an instant falls in, where the patient was then. */
export function shiftOf(facts: StayFacts, at: Instant): ShiftSpan {
  return shiftAt(facts.conventions.stretches, at);
}
