/**
 * A reading that disagrees, at the bedside: the course as told up to it, and the course again with what a
 * reason proposes. The reading is the last entry told.
 */

import type { Words } from "../../../src/findings/finding.js";
import { likelyReasons } from "../../../src/findings/reasons/likely.js";
import type { Disagreeing, Ranked, Reason, ReasonKind } from "../../../src/findings/reasons/reason.js";
import type { Retelling } from "../../../src/findings/reasons/retelling.js";
import { collector } from "../../../src/infusion/collected.js";
import { comeUpTo, follow } from "../../../src/infusion/course.js";
import type { Entry, Placed } from "../../../src/infusion/entry.js";
import type { TotalJudged } from "../../../src/infusion/evidence.js";
import { NOWHERE, type Sink } from "../../../src/infusion/flow.js";
import { inOrder } from "../../../src/infusion/order.js";
import { NOTHING_KNOWN, type State } from "../../../src/infusion/state.js";
import { instant, MINUTE } from "../../../src/time/instant.js";
import { at, DEFAULTS, hang, inMl, mL, on, placed, pump, start, type Told } from "../../infusion/bedside.js";

/** Times such as "10:30", volumes and rates to the microlitre. */
const words: Words = {
  time: (at) => new Date(at).toISOString().slice(11, 16),
  volume: (volume) => `${inMl(volume)} mL`,
  rate: (rate) => `${rate / 1_000} mL/h`,
  duration: (milliseconds) => `${milliseconds / MINUTE} min`,
  on: () => words,
};

export const read = (clock: string, volume: number, total = "primary", channel = "pump-1"): Told =>
  on(clock, "total-read", { total, volume: mL(volume) }, channel);

/** A pump with a litre of saline and no volume to infuse, running since 08:00. */
export const running = (rate: number): Told[] => [
  pump("07:00"),
  hang("07:00", "saline", 1_000),
  start("08:00", rate, { volumeToInfuse: "none" }),
];

/** The reading, which is the last that is told, with the course up to it and what is charted later. */
export function disagreeing(told: readonly Told[]): Disagreeing {
  const all = placed(told);
  const last = all.at(-1)!;
  const ordered = inOrder(all);
  const before = ordered.filter(({ entry }) => entry.at < last.entry.at);
  const collected = collector();
  const state = comeUpTo(followed(before, collected.sink), last.entry.at, collected.sink);
  const upToIt = ordered.filter(({ entry }) => entry.at <= last.entry.at);
  upToIt.slice(before.length).reduce((then, one) => follow(then, one, DEFAULTS, collected.sink), state);
  const reading = collected.readings.find(({ entry }) => entry === last.id)!;
  const mark = reading.over.from;
  const since = upToIt.filter(({ entry }) => entry.at >= mark);
  const entries = since.map((one) => ({ placed: one, recordedAt: instant(one.entry.at), by: "nurse" }));
  const retelling: Retelling = {
    from: followed(before.filter(({ entry }) => entry.at < mark)),
    entries: ordered.filter(({ entry }) => entry.at >= mark),
    settingsAt: DEFAULTS,
  };
  return { reading, collected, entries, state, retelling, words, until: at("23:59") };
}

/** The reading as it is judged with what a reason proposes recorded too. */
export function settledBy(told: readonly Told[], { proposals }: Reason): TotalJudged {
  const all = placed(told);
  const changed = all.map((one) => {
    const amended = proposals.find((proposal) => proposal.do === "amend" && proposal.target === one.id);
    return amended?.do === "amend" ? { ...one, entry: amended.replacement } : one;
  });
  const recorded = proposals.flatMap((proposal) => (proposal.do === "record" ? [proposal.entry] : []));
  const added = recorded.map(
    (entry: Entry, i): Placed => ({ id: `proposed-${i}`, sequence: 1_000 + i, source: "person", entry }),
  );
  const { sink, readings } = collector();
  followed(inOrder([...changed, ...added]), sink);
  return readings.find(({ entry }) => entry === all.at(-1)!.id)!;
}

export function reasonOf(ranked: readonly Ranked[], kind: ReasonKind): Reason | undefined {
  return ranked.find(({ reason }) => reason.kind === kind)?.reason;
}

/** The kinds that share the first place. */
export function firstOf(told: readonly Told[]): ReasonKind[] {
  return likelyReasons(disagreeing(told))
    .filter(({ place }) => place === 1)
    .map(({ reason }) => reason.kind);
}

function followed(entries: readonly Placed[], sink: Sink = NOWHERE): State {
  const nothing: State = { ...NOTHING_KNOWN, lines: new Set(["forearm"]) };
  return entries.reduce((state, one) => follow(state, one, DEFAULTS, sink), nothing);
}
