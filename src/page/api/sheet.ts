/**
 * Everything the page of a shift shows, in one round: the shift first, then what its picture needs beside it,
 * all asked as of the same place in the record and up to the same instant, so that no two figures disagree.
 */

import { client } from "./client.js";
import { everyEntry } from "./entries.js";
import { answerOf } from "./problems.js";
import type { Entry, Flows, ShiftFigures, Stay, StayShift, Volumes } from "./shapes.js";
import { standing } from "./standing.js";

/** A shift of a stay, with its picture. */
export interface ShiftSheet {
  readonly shift: ShiftFigures;
  readonly flows: Flows;
  /** The same shift per channel: how each hour of a band is founded. */
  readonly channels: Volumes;
  /** What each bag that hangs now has given since it was hung; null where none hangs. */
  readonly bags: Volumes | null;
  /** What happened in the shift, as it stands now, in order of its time. */
  readonly entries: readonly Entry[];
  /** Every hanging that stands, to name what the bags hold. */
  readonly hangings: readonly Entry[];
}

/** A stay with the sheet of one of its shifts; null when it has none yet. */
export interface StaySheet {
  readonly stay: Stay;
  readonly sheet: ShiftSheet | null;
}

/** "2026-03-04/day", as queries name a shift. */
export function shiftKey({ date, name }: Pick<StayShift, "date" | "name">): string {
  return `${date}/${name}`;
}

/**
 * Asks for a stay and the shift `wanted`, or its latest when that is null or not of the stay; as of an instant,
 * or null for all that is known.
 */
export async function askForSheet(
  encounter: string,
  wanted: string | null,
  asOf: string | null,
  signal: AbortSignal,
): Promise<StaySheet> {
  const path = { encounter };
  const query = asOf === null ? {} : { asOf };
  const stay = await answerOf(client.GET("/v1/encounters/{encounter}", { params: { path, query }, signal }));
  const found = stay.shifts.find((one) => shiftKey(one) === wanted) ?? stay.shifts[0];
  if (found === undefined) return { stay, sheet: null };
  const { date, name } = found;
  // The client's own type of it leaves out properties that can be nothing but null.
  const shift = (await answerOf(
    client.GET("/v1/encounters/{encounter}/shifts/{date}/{shift}", {
      params: { path: { encounter, date, shift: name }, query },
      signal,
    }),
  )) as ShiftFigures;
  return { stay, sheet: await withPicture(encounter, shift, signal) };
}

async function withPicture(encounter: string, shift: ShiftFigures, signal: AbortSignal): Promise<ShiftSheet> {
  const path = { encounter };
  const known = { asOf: String(shift.asOf.sequence), until: shift.until };
  const period = { shift: shift.shift };
  const perChannel = { ...known, ...period, by: "hour", per: "channel" } as const;
  const within = { ...known, order: "at", from: shift.start, to: justAfter(shift.end) } as const;
  const corrected = everyEntry(encounter, { ...known, kind: ["entry-amended"] }, signal);
  const hung = everyEntry(encounter, { ...known, order: "at", kind: ["bag-hung"] }, signal);
  const hanging = Promise.all([hung, corrected]).then(([found, amended]) => standing(found, amended));
  const [flows, channels, entries, corrections, hangings, bags] = await Promise.all([
    answerOf(
      client.GET("/v1/encounters/{encounter}/flows", {
        params: { path, query: { ...known, ...period } },
        signal,
      }),
    ),
    answerOf(
      client.GET("/v1/encounters/{encounter}/volumes", { params: { path, query: perChannel }, signal }),
    ),
    everyEntry(encounter, within, signal),
    corrected,
    hanging,
    hanging.then((found) => bagsOf(encounter, shift, found, signal)),
  ]);
  return { shift, flows, channels, bags, entries: standing(entries, corrections), hangings };
}

/** What the bags that hang at the end of the sheet have given, from the first of their hangings on. */
async function bagsOf(
  encounter: string,
  shift: ShiftFigures,
  hangings: readonly Entry[],
  signal: AbortSignal,
): Promise<Volumes | null> {
  const hanging = new Set(shift.totals.channels.flatMap(({ flow }) => flow?.bag ?? []));
  const from = hangings.find(({ bag }) => hanging.has(bag as string))?.at;
  if (from === undefined || Date.parse(from) >= Date.parse(shift.totals.at)) return null;
  const known = { asOf: String(shift.asOf.sequence), until: shift.until };
  const query = { ...known, from, to: shift.totals.at, by: "whole", per: "bag" } as const;
  return answerOf(
    client.GET("/v1/encounters/{encounter}/volumes", {
      params: { path: { encounter }, query },
      signal,
    }),
  );
}

/** Entries are listed up to and without an instant; a reading at the shift's end belongs to it. */
function justAfter(instant: string): string {
  return new Date(Date.parse(instant) + 1).toISOString();
}
