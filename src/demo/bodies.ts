/**
 * What a scenario is made of: JSON bodies of the public API, each with the moment at which it is recorded
 * and who records it. `recordedAt` is for whoever sets the clock; the bodies hold RFC 3339 texts.
 */

import type { Instant } from "../time/instant.js";
import type { ChartBody } from "../wire/charts.js";

export type Author = "nurse-day" | "nurse-night" | "charge-nurse" | "device";

/** Body of `POST /v1/units`. */
export interface UnitBody {
  readonly id: string;
  readonly name: string;
  readonly zone: string;
  readonly shifts: readonly { readonly name: string; readonly label: string; readonly starts: string }[];
}

/** Body of `POST /v1/encounters`. */
export interface EncounterBody {
  readonly id: string;
  readonly unit: string;
  readonly bed: string;
  readonly patient: { readonly identifier: string; readonly name: string };
  readonly admittedAt: string;
  readonly admissionWeight?: { readonly value: number; readonly unit: "kg" };
}

/** What one author recorded at one moment: the entries of one `POST …/entries`. */
export interface Post {
  readonly recordedAt: Instant;
  readonly by: Author;
  readonly entries: readonly Readonly<Record<string, unknown>>[];
}

/** Another bed or a discharge, recorded when it happened: the body of one `PATCH /v1/encounters/{e}`. */
export interface Change {
  readonly recordedAt: Instant;
  readonly by: Author;
  readonly body: { readonly bed: string } | { readonly discharge: { readonly at: string } };
}

/** What another record holds, kept: the body of one `POST …/charts`. */
export interface Charted {
  readonly recordedAt: Instant;
  readonly by: Author;
  readonly body: ChartBody;
}

export interface ScenarioEncounter {
  readonly body: EncounterBody;
  /** In order of `recordedAt`. */
  readonly posts: readonly Post[];
  readonly changes: readonly Change[];
  readonly charts: readonly Charted[];
}

export interface Scenario {
  readonly unit: UnitBody;
  readonly encounters: readonly ScenarioEncounter[];
}
