/**
 * The geometry of a line's bands, without pixels: each flow as steps of constant thickness (its rate)
 * resting on what flows beneath it. Thickness × width is volume, exactly, before any scale is applied.
 */

/** What a band is drawn from; times in ms, rate in mL/h. */
export interface Span {
  readonly channel: string;
  readonly start: number;
  readonly end: number;
  readonly rate: number;
}

/** A stretch of a flow over which nothing beneath it changes. */
interface Step {
  readonly start: number;
  readonly end: number;
  /** mL/h of the channels beneath. */
  readonly floor: number;
  readonly rate: number;
}

export interface Band<S extends Span> {
  readonly flow: S;
  /** Touching, in order, from the flow's start to its end. */
  readonly steps: readonly Step[];
}

/**
 * Lays the flows of one line on one another, the first of `order` lowest. Flows of one channel never
 * overlap (a channel delivers from one source at a time), so only other channels lie beneath.
 */
export function stack<S extends Span>(flows: readonly S[], order: readonly string[]): Band<S>[] {
  const rank = new Map(order.map((channel, index) => [channel, index]));
  const height = (channel: string) => rank.get(channel) ?? order.length;
  return flows
    .filter((flow) => flow.end > flow.start)
    .map((flow) => {
      const beneath = flows.filter((other) => height(other.channel) < height(flow.channel));
      return { flow, steps: stepsOf(flow, beneath) };
    });
}

function stepsOf(flow: Span, beneath: readonly Span[]): Step[] {
  const edges = beneath.flatMap((other) => [other.start, other.end]);
  const inside = edges.filter((edge) => edge > flow.start && edge < flow.end);
  const cuts = [...new Set([flow.start, ...inside, flow.end])].sort((a, b) => a - b);
  const steps: Step[] = [];
  for (let index = 0; index + 1 < cuts.length; index += 1) {
    const [start, end] = [cuts[index]!, cuts[index + 1]!];
    const floor = beneath
      .filter((other) => other.start <= start && start < other.end)
      .reduce((sum, other) => sum + other.rate, 0);
    const last = steps.at(-1);
    if (last !== undefined && last.floor === floor) steps[steps.length - 1] = { ...last, end };
    else steps.push({ start, end, floor, rate: flow.rate });
  }
  return steps;
}

/** The thickest a line ever gets, in mL/h; 0 when nothing flowed. */
export function crest(bands: readonly Band<Span>[]): number {
  return Math.max(0, ...bands.flatMap((band) => band.steps.map((step) => step.floor + step.rate)));
}

/** The part of a span inside [from, to), or null when there is none. */
export function clip<S extends { start: number; end: number }>(span: S, from: number, to: number): S | null {
  const start = Math.max(span.start, from);
  const end = Math.min(span.end, to);
  return end > start ? { ...span, start, end } : null;
}

/** Gives overlapping spans a level each, 0 first, so that their brackets never cross. */
export function levels(spans: readonly { start: number; end: number }[]): number[] {
  const taken: number[] = [];
  const order = spans.map((_, index) => index).sort((a, b) => spans[a]!.start - spans[b]!.start);
  const result = new Array<number>(spans.length).fill(0);
  for (const index of order) {
    const span = spans[index]!;
    const free = taken.findIndex((end) => end <= span.start);
    const level = free === -1 ? taken.length : free;
    taken[level] = span.end;
    result[index] = level;
  }
  return result;
}

/** Whether two boxes cover any pixel together. */
export function overlap(
  a: { x: number; y: number; width: number; height: number },
  b: { x: number; y: number; width: number; height: number },
): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}
