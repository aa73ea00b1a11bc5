/**
 * Puts the answers for one shift together into lanes, one per line: its bands and the spans nobody
 * knows. Pure; times become ms, everything else stays.
 */

import type { Flow, FlowRole, Flows, UnknownSpan, VolumeRow } from "../api/shapes.js";
import { moment } from "../words/wall.js";
import { type Band, clip, crest, type Span, stack } from "./bands.js";

/** A flow cut to the shift, with the answer it came from. */
export interface DrawnFlow extends Span {
  readonly source: Flow;
}

export interface Gap {
  readonly channel: string;
  readonly start: number;
  readonly end: number;
  readonly source: Pick<UnknownSpan, "start" | "end" | "reason">;
}

export interface Lane {
  readonly key: string | null;
  readonly label: string | null;
  /** Lowest band first. */
  readonly channels: readonly string[];
  readonly bands: readonly Band<DrawnFlow>[];
  readonly gaps: readonly Gap[];
  /** Thickest moment, mL/h. */
  readonly crest: number;
}

/** The lanes of a shift in the order of the table's rows; lines on which nothing flowed have none. */
export function lanesOf(
  answer: Flows,
  volumes: { readonly rows: readonly Pick<VolumeRow, "key" | "label">[] },
): Lane[] {
  const [from, to] = [moment(answer.from), moment(answer.to)];
  const flows = answer.flows.flatMap((source) => {
    const span = { channel: source.channel, rate: source.rate ?? 0, source, ...bounds(source) };
    return source.rate === null ? [] : (clip(span, from, to) ?? []);
  });
  const gaps = gapsOf(answer).flatMap((gap) => clip(gap, from, to) ?? []);

  const inRows = new Set(volumes.rows.map((row) => row.key));
  const strays = [...flows, ...gaps].map((span) => span.source.line).filter((line) => !inRows.has(line));
  const keys = [...inRows, ...new Set(strays)];
  return keys.flatMap((key) => {
    const row = volumes.rows.find((candidate) => candidate.key === key);
    const ours = flows.filter((flow) => flow.source.line === key);
    const missing = gaps.filter((gap) => gap.source.line === key);
    if (ours.length + missing.length === 0) return [];
    const channels = steadiestFirst([...ours, ...missing]);
    const bands = stack(ours, channels);
    const shown = { key, label: row?.label ?? key };
    return [{ ...shown, channels, bands, gaps: missing, crest: crest(bands) }];
  });
}

/** What nobody knows: the spans the answer names, and flows of unknown rate it does not name already. */
function gapsOf(answer: Flows) {
  const named = answer.unknown.map((source) => ({ channel: source.channel, source, ...bounds(source) }));
  const rateless = answer.flows
    .filter((flow) => flow.rate === null)
    .map(({ channel, line, start, end }) => ({ channel, line, start, end, reason: "rate-unknown" as const }))
    .map((source) => ({ channel: source.channel, source, ...bounds(source) }))
    .filter(
      (gap) => !named.some((other) => other.channel === gap.channel && clip(other, gap.start, gap.end)),
    );
  return [...named, ...rateless];
}

function bounds(span: { start: string; end: string }) {
  return { start: moment(span.start), end: moment(span.end) };
}

/** Channels by how long they flowed, longest first: what hardly moves carries what comes and goes. */
function steadiestFirst(spans: readonly { channel: string; start: number; end: number }[]): string[] {
  const lasted = new Map<string, number>();
  for (const span of spans) {
    lasted.set(span.channel, (lasted.get(span.channel) ?? 0) + span.end - span.start);
  }
  return [...lasted].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([channel]) => channel);
}

/** Whether a role is given on top of what runs anyway: the second hue. */
export function isAdded(role: FlowRole): boolean {
  return role === "secondary" || role === "bolus";
}
