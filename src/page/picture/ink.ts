/**
 * What of a band is written down, and how: each of its steps cut into pieces of one basis. Hours say what they
 * rest on as a whole; in the hour of the last reading, what ran before it is written down and what ran after
 * it is not. Pure; times in ms.
 */

import type { Basis, ChannelTotals, FlowRole, Volumes } from "../api/shapes.js";
import { moment } from "../words/wall.js";
import type { Band } from "./bands.js";
import type { DrawnFlow } from "./lanes.js";

/** A rectangle of a band, in hours and rates. */
export interface Piece {
  readonly start: number;
  readonly end: number;
  readonly floor: number;
  readonly rate: number;
  readonly basis: Basis;
}

/** What says how a shift is founded. */
export interface Founding {
  readonly volumes: Pick<Volumes, "intervals" | "rows">;
  readonly channels: readonly ChannelTotals[];
}

/** The pieces of a band that rest on something that was read; what is only computed has none. */
export function inked({ flow, steps }: Band<DrawnFlow>, founding: Founding): Piece[] {
  const read = lastReadingOf(flow.channel, flow.source.role, founding.channels);
  const cuts = [
    ...founding.volumes.intervals.map(({ start }) => moment(start)),
    ...(read === null ? [] : [read]),
  ];
  return steps.flatMap((step) => {
    const inside = cuts.filter((cut) => cut > step.start && cut < step.end);
    const edges = [step.start, ...new Set(inside), step.end].sort((a, b) => a - b);
    return edges.slice(1).flatMap((end, index) => {
      const start = edges[index]!;
      const basis = basisOf(flow.channel, start, end, read, founding);
      return basis === "computed" || basis === "unknown" ? [] : [{ ...step, start, end, basis }];
    });
  });
}

/** How a channel's figure of the hour at `at` is founded; computed where the answer says nothing. */
export function basisAt({ volumes }: Pick<Founding, "volumes">, channel: string, at: number): Basis {
  const hour = volumes.intervals.findIndex(({ start, end }) => moment(start) <= at && at < moment(end));
  return volumes.rows.find((row) => row.key === channel)?.basis[hour] ?? "computed";
}

function basisOf(
  channel: string,
  start: number,
  end: number,
  read: number | null,
  founding: Founding,
): Basis {
  const basis = basisAt(founding, channel, start);
  if (read === null || basis === "disputed") return basis;
  if (start >= read) return "computed";
  const hour = founding.volumes.intervals.find((one) => moment(one.start) <= read && read < moment(one.end));
  const inItsHour = hour !== undefined && start >= moment(hour.start);
  return basis === "computed" && inItsHour && end <= read ? "apportioned" : basis;
}

/** When the total that counts a role was read last; null where it was not since it was cleared. */
function lastReadingOf(channel: string, role: FlowRole, channels: readonly ChannelTotals[]): number | null {
  const totals = channels.find((one) => one.channel === channel)?.totals ?? [];
  const counts = role === "secondary" ? ["secondary", "combined"] : ["primary", "combined"];
  const total = totals.find((one) => counts.includes(one.total));
  return total === undefined || total.lastReading === null ? null : moment(total.since);
}
