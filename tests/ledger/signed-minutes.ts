/**
 * How a stay is signed, worked out minute by minute from its entries and its hours alone: the last signature
 * over a minute speaks for it as long as the hour in which it was signed is whole, is of the unit that signed
 * it, and comes to what was signed.
 */

import { instant } from "../../src/time/instant.js";
import { done, type Json, type Stay } from "./stay.js";

const MINUTE = 60_000;

/** A shift, or what of it the patient spent in one unit; the instants in milliseconds. */
export interface Piece {
  readonly name: string;
  readonly start: number;
  readonly end: number;
  readonly unit: string;
}

export interface SignedMinute {
  readonly piece: Piece;
  /** The id of the last signature over it. */
  readonly signature: string | undefined;
  readonly sound: boolean;
}

/** The shifts that have begun, with the unit whose time each is. */
async function piecesOf(stay: Stay): Promise<Piece[]> {
  const { shifts } = done(await stay.ledger.encounter("stay-1")).answer as Json;
  const stations = (await stay.entries())
    .filter(({ kind }) => kind === "admitted" || kind === "moved")
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return shifts.map(({ date, name, start, end }: Json) => {
    const from = Date.parse(start);
    const { unit } = stations.findLast(({ at }) => Date.parse(at) <= from) ?? stations[0];
    return { name: `${date}/${name}`, start: from, end: Date.parse(end), unit };
  });
}

/** Every minute of the shifts that have begun. */
export async function signedMinutes(stay: Stay): Promise<SignedMinute[]> {
  const signed = (await stay.entries()).filter(({ kind }) => kind === "shift-signed");
  const isOver = ({ from, at }: Json, minute: number) =>
    Date.parse(from) <= minute && minute < Date.parse(at);
  const lastOver = (minute: number) => signed.findLast((one) => isOver(one, minute));
  const same = new Map<Json, ReadonlySet<string>>();
  for (const one of signed) same.set(one, await sameHours(stay, one));
  const minutes: SignedMinute[] = [];
  for (const piece of await piecesOf(stay)) {
    for (let minute = piece.start; minute < piece.end; minute += MINUTE) {
      const signature = lastOver(minute);
      const hour = signature?.figures.intervals.map(period).find((one: Span) => within(one, minute));
      const sound =
        hour !== undefined &&
        piece.start <= hour.start &&
        hour.end <= piece.end &&
        !signed.some((one) => one.recorded.sequence > signature.recorded.sequence && meets(one, hour)) &&
        signature.unit === piece.unit &&
        same.get(signature)!.has(`${hour.start} ${hour.end}`);
      minutes.push({ piece, signature: signature?.id, sound });
    }
  }
  return minutes;
}

interface Span {
  readonly start: number;
  readonly end: number;
}

const period = ({ start, end }: Json): Span => ({ start: Date.parse(start), end: Date.parse(end) });
const within = ({ start, end }: Span, minute: number) => start <= minute && minute < end;
const meets = ({ from, at }: Json, { start, end }: Span) => Date.parse(from) < end && start < Date.parse(at);

/** The hours of a signature of which the net, and what the line gave, come to what was signed. */
async function sameHours(stay: Stay, { from, at, figures }: Json): Promise<Set<string>> {
  const span = { from: instant(Date.parse(from)), to: instant(Date.parse(at)) };
  const balance = done(await stay.ledger.balance("stay-1", { period: span, by: "hour" })) as Json;
  const { rows } = await stay.volumes(span);
  const given = rows.find(({ key }: Json) => key === "forearm")?.volumes ?? [];
  const signed = (row: string, i: number, line: string | null = null) =>
    figures.rows.find(({ of, key }: Json) => of === row && key === line)?.values[i] ?? 0;
  const hours = figures.intervals.map(period);
  const same = new Set<string>();
  for (const [i, now] of balance.intervals.map(period).entries()) {
    const then = hours.findIndex(({ start, end }: Span) => start === now.start && end === now.end);
    const isSame =
      signed("net", then) === balance.net[i] && signed("volume", then, "forearm") === (given[i] ?? 0);
    if (then !== -1 && isSame) same.add(`${now.start} ${now.end}`);
  }
  return same;
}
