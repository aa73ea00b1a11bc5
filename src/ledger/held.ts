/**
 * Whether what a signed figure rests on still stands. A reading that was recorded since may change how an
 * older one is judged; where nothing else happened on the channel, and what had been read by then says what
 * it said, the signed figure keeps what it rests on. A correction, or a fact that came to light, may move it.
 */

import { type Anchor, anchorsOf, type Told } from "../infusion/anchor.js";
import { alike, counterOf, type Held, overlaps, type Signed } from "../infusion/held.js";
import { NOTHING, toTicks } from "../infusion/quantity.js";
import type { SettingsAt } from "../infusion/step.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, latest, type Period } from "../time/instant.js";
import { without } from "../time/periods.js";
import type { AnchorText, RestText } from "../wire/signed.js";
import { courseOf } from "./course.js";
import { canonical, digestOf } from "./record.js";
import type { CountingEntry, Known } from "./replay.js";
import { type Signature, type Stands, standing } from "./signatures.js";

/** What only looks at a channel: it says what was delivered, and moves nothing. */
const LOOKS: ReadonlySet<string> = new Set(["total-read", "bag-level-read", "segment-read"]);

/** Time after `from` and up to `to`. */
type Covered = { readonly from: Instant; readonly to: Instant };

/**
 * The signed spans, each with what it holds against how things are judged now. Compared is what reaches into a
 * window, as far as `until`; where it is the same, as it is but for readings charted very late, nothing is asked.
 */
export function* withHolds(
  known: Known,
  signatures: readonly Signature[],
  told: Told,
  window: Period & { readonly until: Instant },
  settingsAt: SettingsAt,
): Inquiry<Signed[]> {
  if (signatures.length === 0) return [];
  const spans = signatures.map(({ after: from, to, sequence }) => ({ from, to, sequence }));
  const judged = anchorsOf(told, spans).filter(saysSomething);
  const stands = standing(signatures);
  const signed: Signed[] = [];
  for (const one of signatures) {
    const { sequence } = one;
    const own = stands.filter(({ signature }) => signature === one).map((span) => coveredOf(span));
    const holds = own.length > 0 ? yield* holdsOf(known, one, own, judged, window, settingsAt) : [];
    for (const span of own) signed.push({ ...span, sequence, holds: within(holds, span) });
    const replaced = without(
      { start: one.after, end: one.to },
      own.map(({ from, to }) => ({ start: from, end: to })),
    );
    signed.push(...replaced.map(({ start: from, end: to }) => ({ from, to, sequence })));
  }
  return signed;
}

/** Where what is covered lies: what stands on the start of a signature may be covered as well. */
function coveredOf({ start, end, signature }: Stands): Covered {
  return { from: start === signature.from ? signature.after : start, to: end };
}

/** What a signature holds of each counter within time that it stands for; of some there was nothing. */
function within(holds: readonly Held[], span: Covered): Held[] {
  return holds.map(({ counter, anchors }) => {
    return { counter, anchors: anchors.filter((anchor) => overlaps(anchor, span)) };
  });
}

function* holdsOf(
  known: Known,
  signature: Signature,
  stands: readonly Covered[],
  judged: readonly Anchor[],
  window: Period & { readonly until: Instant },
  settingsAt: SettingsAt,
): Inquiry<Held[]> {
  const { sequence } = signature;
  const holds: Held[] = [];
  for (const rest of signature.rests) {
    const then = grouped(rest.anchors.filter(({ to }) => to <= window.until));
    // Where nothing had flowed since a mark by the end of what was signed, nobody looked for what is read over it.
    const isBeyond = (anchor: Anchor, was: readonly Anchor[]) =>
      anchor.to > signature.to && was.every(({ to }) => to <= anchor.from);
    const now = grouped(judged.filter(({ channel }) => channel === rest.channel));
    const moved = [...new Set([...then.keys(), ...now.keys()])].filter((counter) => {
      const [was, is] = [then.get(counter) ?? [], now.get(counter) ?? []];
      const region = reachOf([...was, ...is], window);
      const seen = (anchor: Anchor) =>
        overlaps(anchor, region) && stands.some((span) => overlaps(anchor, span));
      return !alike(
        was.filter(seen),
        is.filter((anchor) => anchor.sequence < sequence && seen(anchor) && !isBeyond(anchor, was)),
      );
    });
    if (moved.length === 0) continue;
    const course = yield* courseDigest(known, rest, sequence, settingsAt);
    if (course !== rest.course) continue;
    for (const counter of moved) {
      const was = then.get(counter) ?? [];
      const beyond = (now.get(counter) ?? []).filter((one) => one.sequence < sequence && isBeyond(one, was));
      holds.push({ counter, anchors: [...was, ...beyond] });
    }
  }
  return holds;
}

/** A segment is judged by its own flows alone, which the digest of a course tells; where nothing flowed and nothing was read, nothing rests on it. */
function saysSomething({ kind, computed, increment }: Anchor): boolean {
  return kind !== "segment" && (computed !== NOTHING || increment !== NOTHING);
}

/** A window, and as far beyond it as a counter's anchors that it cuts. */
function reachOf(anchors: readonly Anchor[], { start, end }: Period) {
  const cut = anchors.filter((anchor) => overlaps(anchor, { from: start, to: end }));
  return {
    from: earliest(start, ...cut.map(({ from }) => from)),
    to: latest(end, ...cut.map(({ to }) => to)),
  };
}

function grouped(anchors: readonly Anchor[]): Map<string, Anchor[]> {
  const groups = new Map<string, Anchor[]>();
  for (const anchor of anchors) {
    const counter = counterOf(anchor);
    const group = groups.get(counter);
    if (group === undefined) groups.set(counter, [anchor]);
    else group.push(anchor);
  }
  return groups;
}

/** What the figures of a span rest on, channel by channel, to be kept with a signature recorded as `sequence`. */
export function* restsOn(
  known: Known,
  span: { readonly from: Instant; readonly to: Instant; readonly sequence: number },
  { anchors, channels }: { readonly anchors: readonly Anchor[]; readonly channels: ReadonlySet<string> },
  settingsAt: SettingsAt,
  time: (at: Instant) => string,
): Inquiry<RestText[]> {
  const rests: RestText[] = [];
  for (const channel of [...channels].sort()) {
    const own = anchors.filter(
      (anchor) => anchor.channel === channel && saysSomething(anchor) && overlaps(anchor, span),
    );
    const from = earliest(span.from, ...own.map((anchor) => anchor.from));
    const to = latest(span.to, ...own.map((anchor) => anchor.to));
    const course = yield* courseDigest(known, { channel, from, to }, span.sequence, settingsAt);
    const texts = own.map((anchor) => anchorText(anchor, time));
    rests.push({ channel, from: time(from), to: time(to), course, anchors: texts });
  }
  return rests;
}

/** A digest of what happened on a channel, and of what had been read of it before a sequence. */
function* courseDigest(
  known: Known,
  { channel, from, to }: { readonly channel: string; readonly from: Instant; readonly to: Instant },
  sequence: number,
  settingsAt: SettingsAt,
): Inquiry<string> {
  const { collected, entries } = yield* courseOf(known, { start: from, end: to }, settingsAt);
  const flows = collected.flows
    .filter((flow) => flow.channel === channel)
    .map(({ start, end, line, bag, role, total, rate, volume }) => {
      return [start, end, line, bag, role, total, rate, toTicks(volume)];
    });
  const counting = entries
    .filter((entry) => isOf(entry, channel, sequence))
    .map(({ original, content, settled }) => [original.id, content.sequence, settled ?? null]);
  return digestOf(canonical({ flows, counting }));
}

function isOf({ placed, original }: CountingEntry, channel: string, before: number): boolean {
  const { entry } = placed;
  if (LOOKS.has(entry.kind) && original.sequence >= before) return false;
  return "channel" in entry ? entry.channel === channel : "bag" in entry;
}

function anchorText(anchor: Anchor, time: (at: Instant) => string): AnchorText {
  const ticks = (volume: Anchor["delivered"]) => (volume === null ? null : toTicks(volume));
  return {
    kind: anchor.kind === "level" ? "level" : "total",
    line: anchor.line,
    total: anchor.total,
    bag: anchor.bag,
    from: time(anchor.from),
    to: time(anchor.to),
    entry: anchor.entry,
    over: anchor.over,
    sequence: anchor.sequence,
    increment: toTicks(anchor.increment),
    delivered: ticks(anchor.delivered),
    computed: ticks(anchor.computed),
    shows: toTicks(anchor.shows),
    basis: anchor.basis,
    metered: anchor.metered,
  };
}
