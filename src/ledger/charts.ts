/**
 * Charts kept for the record: the figures another record holds, as somebody read them off it. A chart is an entry
 * of the ledger's own; it changes no figure, and one that was copied wrong is kept again, right.
 */

import { ask, type Inquiry } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import type { ChartBody } from "../wire/charts.js";
import type { ChartPostedText } from "../wire/stored.js";
import { chainOf } from "./acknowledgements.js";
import { chartSpan } from "./chart-span.js";
import { coordinates, written } from "./coordinates.js";
import { recordedText } from "./entries.js";
import { recordedOf } from "./families.js";
import { chartsKept, figureOf, type KeptChart } from "./kept-charts.js";
import type { Asked } from "./ledger.js";
import { type Answered, addedTo, nothing, type Request } from "./own-entries.js";
import { canonical } from "./record.js";
import { done, type Outcome, refused } from "./refusal.js";
import type { StayFacts } from "./stay.js";

export interface ChartsQuery extends Asked {
  readonly after?: string | undefined;
  readonly limit: number;
}

/** Keeps a chart: one entry of the ledger's own. The same id with the same body is a retry. */
export function* keepChart(
  request: Request & { readonly encounter: string; readonly body: ChartBody },
): Answered {
  const { encounter, body, now } = request;
  const chain = chainOf(encounter);
  const resolved = yield* coordinates(chain, {}, now);
  if (resolved.refused) return nothing(resolved);
  const { facts, known, asOf } = resolved.done;
  const taken = body.id === undefined ? [] : yield* ask({ ask: "ids", chain, ids: [body.id] });
  const there = taken.find(({ id }) => id === body.id);
  if (there !== undefined && isOf(recordedOf(there).body, body)) {
    const chart = (yield* chartsKept(known)).find(({ id }) => id === body.id)!;
    const text = { ledger: { sequence: asOf.sequence, digest: asOf.digest }, ...wholeText(chart, facts) };
    return nothing(done({ status: 200, body: JSON.stringify(text), sequence: asOf.sequence, id: chart.id }));
  }
  const figures = body.figures.map(figureOf);
  const span = chartSpan(body, figures, facts, now);
  if (span.faults) return nothing(refused({ problem: "invalid-body", errors: span.faults }));
  if (there !== undefined) return nothing(refused({ problem: "id-exists", what: "entry", id: there.id }));
  const { stretchAt } = facts.conventions;
  const posted: ChartPostedText = {
    kind: "chart-posted",
    at: formatInstant(now, stretchAt(now).zone),
    start: formatInstant(span.value.start, stretchAt(span.value.start).zone),
    end: formatInstant(span.value.end, stretchAt(span.value.end).zone),
    chart: body,
  };
  const own = { body: posted, ...(body.id !== undefined && { id: body.id }) };
  const write = addedTo(asOf, chain, own, request);
  const { row } = write;
  const chart = { id: row.id, source: body.source, ...span.value, figures, body: posted, row, latest: true };
  const text = { ledger: { sequence: row.sequence, digest: row.digest }, ...wholeText(chart, facts) };
  const answer = { status: 201, body: JSON.stringify(text), sequence: row.sequence, id: row.id };
  return { writes: [write], answer: done(answer) };
}

/** Whether an entry is a chart that was sent with just this body. */
function isOf(stored: { readonly kind: string }, body: ChartBody): boolean {
  return stored.kind === "chart-posted" && canonical((stored as ChartPostedText).chart) === canonical(body);
}

/** A page of the charts that were kept, in the order of recording; a cursor is a sequence. */
export function* charts(encounter: string, query: ChartsQuery, now: Instant): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const after = query.after === undefined ? 0 : Number(query.after);
  if (!Number.isSafeInteger(after) || after < 0) return badCursor();
  const all = yield* chartsKept(resolved.done.known);
  const kept = all.filter(({ row }) => row.sequence > after);
  const page = kept.slice(0, query.limit);
  const last = page.at(-1);
  return done({
    ...written(resolved.done),
    charts: page.map((chart) => ({ ...headText(chart, resolved.done.facts), count: chart.figures.length })),
    ...(kept.length > page.length && last !== undefined ? { next: String(last.row.sequence) } : {}),
  });
}

/** One kept chart, every figure as it was sent. */
export function* chart(encounter: string, id: string, query: Asked, now: Instant): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const found = (yield* chartsKept(resolved.done.known)).find((one) => one.id === id);
  if (found === undefined) return refused({ problem: "not-found", what: "chart", id });
  return done({ ...written(resolved.done), ...wholeText(found, resolved.done.facts) });
}

function headText({ id, source, body, row, latest }: KeptChart, { conventions }: StayFacts) {
  const zone = conventions.stretchAt(row.recordedAt).zone;
  return {
    id,
    ...(source !== undefined && { source }),
    start: body.start,
    end: body.end,
    latest,
    recorded: recordedText(row, "current", zone),
  };
}

function wholeText(chart: KeptChart, facts: StayFacts) {
  return { ...headText(chart, facts), figures: chart.body.chart.figures };
}

function badCursor() {
  const detail = "`after` is no cursor of this list; use the `next` of the page before.";
  return refused({ problem: "bad-parameter", errors: [{ parameter: "after", code: "no-cursor", detail }] });
}
