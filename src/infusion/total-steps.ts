/** What reading and clearing running totals does. Neither moves the course; only a change of therapy ends flows. */

import { advance, steadyFlow } from "./advance.js";
import { clear, clearAll } from "./clear.js";
import { compare, type Tolerance } from "./comparison.js";
import { channelWith, withCounter } from "./copies.js";
import type { TherapyChanged, TotalName, TotalRead, TotalsReset } from "./entry.js";
import { NOWHERE } from "./flow.js";
import { endAll } from "./flow-steps.js";
import { expectedBy, looseUntil, type Mark, markAt } from "./mark.js";
import { minus, NOTHING, plus, type Volume, volumeOf } from "./quantity.js";
import { judged, type Outcome } from "./reading.js";
import { flowedBefore } from "./recent.js";
import { type Channel, Draft } from "./state.js";
import { evident, type Step, withoutEffect } from "./step.js";

/** A reading is judged; if it counts, the device is expected to show it plus what is delivered since. */
export function read(run: Step, entry: TotalRead): void {
  const channel = run.draft.channel(entry.channel)!;
  const { total } = entry;
  const counter = channel.counters[total];
  if (counter === undefined) {
    if (total === "combined" && channel.totals === "separate") return checkSum(run, channel, entry);
    return withoutEffect(run, channel.channel, `the channel keeps no ${total} total`);
  }
  const settings = run.settingsAt(run.at);
  const value = volumeOf(entry.volume);
  const { id, at, source } = run;
  const behind = flowedBefore(counter, at, settings.chartingGrain);
  const mark = markAt(id, at, value, settings.chartingGrain, behind);
  const tolerance = toleranceAt(run);
  const judgement = judged(
    counter,
    { entry: id, at, value, source, settled: entry.settled, mark },
    {
      around: { behind, ahead: flowsWithinGrain(run, channel, [total]) },
      type: channel.type,
      tolerance,
    },
  );
  run.sink.read(
    evident(run, channel, {
      total,
      value,
      expected: expectedBy(counter),
      outcome: judgement.outcome,
      over: judgement.over,
      comparison: judgement.comparison,
      setsAside: judgement.setsAside,
      before: judgement.before,
      confirmed: entry.confirmed === true,
      decided: entry.settled !== undefined,
      tolerance,
      checkOnly: false,
    }),
  );
  run.draft.put(withCounter(channel, total, judgement.counter));
}

export function reset(run: Step, entry: TotalsReset): void {
  const channel = run.draft.channel(entry.channel)!;
  const kept = entry.totals.filter((total) => channel.counters[total] !== undefined);
  if (kept.length === 0) return withoutEffect(run, channel.channel, "the channel keeps no such total");
  run.draft.put(
    channelWith(channel, { counters: clear(run, channel, kept, entry.leaveUncaptured, entry.latest) }),
  );
}

/** All flows end; the totals clear where the device does that; bags keep what they hold. */
export function changeTherapy(run: Step, entry: TherapyChanged): void {
  const channel = run.draft.channel(entry.channel)!;
  const known = channel.connected || Object.keys(channel.counters).length > 0;
  if (!known) return withoutEffect(run, entry.channel, "the channel was never connected to a line");
  const ended = endAll(channel);
  run.draft.put(
    channel.clearsOn.includes("therapy-change")
      ? channelWith(ended, { counters: clearAll(run, channel, channel.totals, entry.leaveUncaptured) })
      : ended,
  );
}

/** A sum of both totals read on a channel that keeps them apart is a check, not a counter. */
function checkSum(run: Step, channel: Channel, { volume, confirmed, settled }: TotalRead): void {
  const counters = Object.values(channel.counters);
  if (counters.length === 0) return;
  const value = volumeOf(volume);
  const over = (counters as readonly Mark[]).reduce(together);
  const { chartingGrain } = run.settingsAt(run.at);
  const behind = counters.reduce((sum, one) => plus(sum, flowedBefore(one, run.at, chartingGrain)), NOTHING);
  const ahead = flowsWithinGrain(run, channel, Object.keys(channel.counters) as TotalName[]);
  const tolerance = toleranceAt(run);
  const comparison = compare(over, value, { behind, ahead }, channel.type, tolerance);
  run.sink.read(
    evident(run, channel, {
      total: "combined",
      value,
      expected: expectedBy(over),
      outcome: outcomeOfSum(comparison.agrees, settled),
      over,
      comparison,
      setsAside: null,
      before: null,
      confirmed: confirmed === true,
      decided: settled !== undefined,
      tolerance,
      checkOnly: true,
    }),
  );
}

function outcomeOfSum(agrees: boolean, settled: TotalRead["settled"]): Outcome {
  if (agrees) return "agrees";
  if (settled === undefined) return "disputed";
  return settled === "reading" ? "settled" : "not-used";
}

/** Two marks as one, of the sum of what the counters showed and of what they counted since. */
function together(a: Mark, b: Mark): Mark {
  return {
    ...(a.from <= b.from ? a : b),
    base: plus(a.base, b.base),
    since: plus(a.since, b.since),
    early: plus(a.early, b.early),
    late: plus(a.late, b.late),
    waited: plus(a.waited, b.waited),
    bolus: a.bolus || b.bolus,
    atLeast: a.atLeast || b.atLeast,
  };
}

/** What the totals would count within the span that the step's time stands for, as things are now. */
export function flowsWithinGrain(run: Step, channel: Channel, totals: readonly TotalName[]): Volume {
  const end = looseUntil(run.at, run.settingsAt(run.at).chartingGrain);
  if (end <= run.at) return NOTHING;
  const steady = steadyFlow(run.draft, channel, end - run.at);
  if (steady !== null)
    return steady.total !== null && totals.includes(steady.total) ? steady.volume : NOTHING;
  const ahead = advance(new Draft(run.draft.done()), channel.channel, end, NOWHERE);
  const counted = (counters: Channel["counters"]) =>
    totals.reduce((sum, total) => plus(sum, counters[total]?.since ?? NOTHING), NOTHING);
  return minus(counted(ahead.counters), counted(channel.counters));
}

export function toleranceAt(run: Step): Tolerance {
  const { percent, pump, syringe } = run.settingsAt(run.at).readingTolerance;
  return { percent, pump: volumeOf(pump), syringe: volumeOf(syringe) };
}
