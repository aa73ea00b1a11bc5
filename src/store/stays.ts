/**
 * The tables `unit` and `stay`: the directory of units and of the encounters in them. The only
 * place that holds who a patient is; unlike entries, what it says may be replaced.
 */

import type { Database } from "better-sqlite3";
import { sql } from "kysely";
import { type Instant, latest } from "../time/instant.js";
import type { Answering, AskOf, Writing } from "./conversation.js";
import { build, prepared, query } from "./query.js";
import type { ListedStay, Stay } from "./store.js";

const columns = [
  "stay.encounter",
  "stay.unit",
  "bed",
  "patient_identifier as patientIdentifier",
  "patient_name as patientName",
  "patient_salt as patientSalt",
  "admitted_at as admittedAt",
  "discharged_at as dischargedAt",
] as const;

const whole = build.selectFrom("stay").select(columns);

/** Stays by the moves recorded of them; one that was moved twice stands twice. */
const moved = build
  .selectFrom("entry")
  .innerJoin("chain", "chain.number", "entry.chain")
  .innerJoin("stay", (join) =>
    join.on("stay.encounter", "=", sql<string>`substr(chain.name, ${sql.lit("encounter/".length + 1)})`),
  )
  .where(sql<boolean>`entry.kind = 'moved'`)
  .select(columns);

type Page = { readonly unit: string; readonly after: string; readonly limit: number };

/** One query per combination, so that each has an index of its own. */
function page(which: { ofUnit: boolean; open: boolean | null }) {
  return query<Page>()((given) => {
    const stays = whole
      .where("encounter", ">", given("after"))
      .orderBy("encounter")
      .limit(given("limit"))
      .$if(which.ofUnit, (some) => some.where("unit", "=", given("unit")));
    if (which.open === null) return stays;
    return stays.where("discharged_at", which.open ? "is" : "is not", null);
  });
}

type Left = Pick<Page, "unit"> & { readonly leftAfter: Instant };

/** All that left a unit after an instant: of a day a few, in whatever order. */
function left(open: boolean | null) {
  return query<Left>()((given) => {
    const stays = whole
      .innerJoin("departure", "departure.encounter", "stay.encounter")
      .select("departure.left_at as leftAt")
      .where("departure.unit", "=", given("unit"))
      .where("departure.left_at", ">", given("leftAfter"));
    if (open === null) return stays;
    return stays.where("discharged_at", open ? "is" : "is not", null);
  });
}

export const stayQueries = {
  one: query<{ encounter: string }>()((given) => whole.where("encounter", "=", given("encounter"))),
  unitOf: query<{ encounter: string }>()((given) =>
    build.selectFrom("stay").select("unit").where("encounter", "=", given("encounter")),
  ),
  every: page({ ofUnit: false, open: null }),
  open: page({ ofUnit: false, open: true }),
  ended: page({ ofUnit: false, open: false }),
  everyOfUnit: page({ ofUnit: true, open: null }),
  openOfUnit: page({ ofUnit: true, open: true }),
  endedOfUnit: page({ ofUnit: true, open: false }),
  endedSince: query<{ unit: string; after: Instant }>()((given) =>
    whole.where("unit", "=", given("unit")).where("discharged_at", ">", given("after")),
  ),
  movedSince: query<{ after: Instant }>()((given) => moved.where("entry.at", ">", given("after"))),
  movedAsRecordedSince: query<{ after: Instant }>()((given) =>
    moved.where("entry.recorded_at", ">", given("after")),
  ),
  everyLeft: left(null),
  openLeft: left(true),
  endedLeft: left(false),
  putDeparture: query<{ encounter: string; unit: string; leftAt: Instant }>()((given) =>
    build
      .insertInto("departure")
      .values({ encounter: given("encounter"), unit: given("unit"), left_at: given("leftAt") }),
  ),
  dropDepartures: query<{ encounter: string }>()((given) =>
    build.deleteFrom("departure").where("encounter", "=", given("encounter")),
  ),
  put: query<Stay>()((given) =>
    build
      .insertInto("stay")
      .values({
        encounter: given("encounter"),
        unit: given("unit"),
        bed: given("bed"),
        patient_identifier: given("patientIdentifier"),
        patient_name: given("patientName"),
        patient_salt: given("patientSalt"),
        admitted_at: given("admittedAt"),
        discharged_at: given("dischargedAt"),
      })
      .onConflict((conflict) =>
        conflict.column("encounter").doUpdateSet((e) => ({
          unit: e.ref("excluded.unit"),
          bed: e.ref("excluded.bed"),
          patient_identifier: e.ref("excluded.patient_identifier"),
          patient_name: e.ref("excluded.patient_name"),
          patient_salt: e.ref("excluded.patient_salt"),
          admitted_at: e.ref("excluded.admitted_at"),
          discharged_at: e.ref("excluded.discharged_at"),
        })),
      ),
  ),
  units: query<{ after: string; limit: number }>()((given) =>
    build
      .selectFrom("unit")
      .select("id")
      .where("id", ">", given("after"))
      .orderBy("id")
      .limit(given("limit")),
  ),
  addUnit: query<{ unit: string }>()((given) =>
    build
      .insertInto("unit")
      .values({ id: given("unit") })
      .onConflict((conflict) => conflict.doNothing()),
  ),
};

/** For verification, which reads everything anyway. */
const directoryQueries = { all: query<object>()(() => whole.orderBy("encounter")) };

export interface Stays {
  readonly answering: Answering<"stay" | "stays" | "stays-since" | "units">;
  readonly writing: Writing<"stay" | "departures" | "unit">;
  /** The unit an encounter is in now. */
  unitOf(encounter: string): string | undefined;
  every(): readonly Stay[];
}

/** The name of the query that answers an ask for stays. */
function queryFor(ofUnit: boolean, open: boolean | null) {
  if (open === null) return ofUnit ? "everyOfUnit" : "every";
  if (open) return ofUnit ? "openOfUnit" : "open";
  return ofUnit ? "endedOfUnit" : "ended";
}

function leftQueryFor(open: boolean | null) {
  if (open === null) return "everyLeft";
  return open ? "openLeft" : "endedLeft";
}

export function staysOf(handle: Database): Stays {
  const stays = prepared(handle, stayQueries);
  const directory = prepared(handle, directoryQueries);

  /** Unit by unit, so that each has its index however many there are, and then the first of all. */
  const pageOf = ({ units, open, leftAfter, after, limit }: AskOf<"stays">): ListedStay[] => {
    const from = { after: after ?? "", limit };
    const there = (stay: Stay): ListedStay => ({ ...stay, leftAt: null });
    if (units === null) return stays[queryFor(false, open)].all({ ...from, unit: "" }).map(there);
    const own = [...new Set(units)];
    const found = new Map<string, ListedStay>();
    const gone = (unit: string) =>
      leftAfter === undefined ? [] : stays[leftQueryFor(open)].all({ unit, leftAfter });
    for (const stay of own.flatMap(gone)) {
      if (stay.encounter <= from.after || own.includes(stay.unit)) continue;
      const before = found.get(stay.encounter)?.leftAt ?? stay.leftAt;
      found.set(stay.encounter, { ...stay, leftAt: latest(before, stay.leftAt) });
    }
    for (const stay of own.flatMap((unit) => stays[queryFor(true, open)].all({ ...from, unit }))) {
      found.set(stay.encounter, there(stay));
    }
    return [...found.values()].sort((a, b) => (a.encounter < b.encounter ? -1 : 1)).slice(0, limit);
  };

  /** Where the past is asked for, any that ended may have ended later by what was known then. */
  const staysSince = ({ unit, after, recordedBy }: AskOf<"stays-since">): Stay[] => {
    const all = { unit, after: "", limit: Number.MAX_SAFE_INTEGER };
    const here =
      recordedBy === null
        ? [...stays.openOfUnit.all(all), ...stays.endedSince.all({ unit, after })]
        : stays.everyOfUnit.all(all);
    const gone = [
      ...stays.movedSince.all({ after }),
      ...(recordedBy === null ? [] : stays.movedAsRecordedSince.all({ after: recordedBy })),
    ];
    return [...new Map([...here, ...gone].map((stay) => [stay.encounter, stay])).values()];
  };

  return {
    answering: {
      "stays-since": staysSince,
      stay: (ask) => stays.one.get(ask),
      stays: pageOf,
      units: (ask) => stays.units.all({ after: ask.after ?? "", limit: ask.limit }).map((unit) => unit.id),
    },
    writing: {
      stay: ({ stay }) => {
        stays.put.run(stay);
      },
      departures: ({ encounter, departures }) => {
        stays.dropDepartures.run({ encounter });
        for (const departure of departures) stays.putDeparture.run({ encounter, ...departure });
      },
      unit: (write) => {
        stays.addUnit.run(write);
      },
    },
    unitOf: (encounter) => stays.unitOf.get({ encounter })?.unit,
    every: () => directory.all.all({}),
  };
}
