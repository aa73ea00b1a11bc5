/** Nobody charted that a rate was changed, or a rate was charted ten times too high or too low. */

import type { Role } from "../../infusion/entry.js";
import type { Flow } from "../../infusion/flow.js";
import { delivered, minus, plus, type Rate, rateOf, type Volume } from "../../infusion/quantity.js";
import { DEFAULT_RATE_STEP } from "../../infusion/rate-step.js";
import { type Instant, latest } from "../../time/instant.js";
import type { Reported } from "../finding.js";
import { amend, record } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { channelOf, countedFlows, endedByItself, flowingBetween, missing, onChannel, room } from "./span.js";
import { likeliest, type Supposed } from "./supposed.js";
import { roundRatesAbout, timesWithin } from "./usual.js";

/** A slip of the decimal point is rarer than a change left out. */
const SLIP = 0.03;

export function rateChangeMissing(d: Disagreeing): Reason[] {
  const all = stretches(d);
  return likeliest("rate-change-missing", d, [...changes(d, all), ...slips(d, all)]);
}

/** Time at one charted rate, from what set it to what set the next; it may be interrupted. */
interface Stretch {
  readonly role: Role;
  readonly rate: Rate;
  readonly flows: readonly Flow[];
  readonly start: Instant;
  readonly end: Instant;
  /** What set the rate, if that was within the span. */
  readonly setBy: Reported | undefined;
  /** What more can have come out of it by now; null without a limit. */
  readonly left: Volume | null;
}

function* changes(d: Disagreeing, all: readonly Stretch[]): Iterable<Supposed> {
  const rateStep = channelOf(d)?.rateStep ?? DEFAULT_RATE_STEP;
  const charted = new Set([d.reading.over.from, ...onChannel(d).map(({ placed }) => placed.entry.at)]);
  const whole = all.reduce((sum, { start, end }) => sum + (end - start), 0);
  for (const stretch of all) {
    const { role, rate, start, end } = stretch;
    const part = (end - start) / whole;
    for (const { at, share } of timesWithin(start, end, charted)) {
      const flowing = flowingBetween(stretch.flows, at, end);
      if (flowing === 0) continue;
      for (const other of roundRatesAbout(rate + Number(missing(d)) / flowing, rate, rateStep)) {
        const would = atRate(d, stretch, at, other.rate);
        if (would === null) continue;
        const { increment } = d.reading.comparison;
        const tell = () => ({
          sentence:
            `At ${d.words.rate(other.rate)} instead of ${d.words.rate(rate)} from ${d.words.time(at)} it ` +
            "would agree: a change of rate may not have been charted.",
          proposals: [
            record({ kind: "rate-changed", at, channel: d.reading.channel, role, rate: other.rate }),
          ],
        });
        yield { increment, would, share: (1 - SLIP) * part * share * other.share, tell };
      }
    }
  }
}

/** A rate charted within the span with its decimal point in the wrong place. */
function* slips(d: Disagreeing, all: readonly Stretch[]): Iterable<Supposed> {
  for (const stretch of all) {
    const { rate, setBy, start } = stretch;
    // A device does not mistype what it is set to.
    if (setBy === undefined || setBy.placed.source === "device") continue;
    const { id, entry } = setBy.placed;
    if (entry.kind !== "rate-changed" && entry.kind !== "flow-started" && entry.kind !== "secondary-started")
      continue;
    for (const slipped of rate % 10 === 0 ? [rateOf(rate * 10), rateOf(rate / 10)] : [rateOf(rate * 10)]) {
      const would = atRate(d, stretch, start, slipped);
      if (would === null) continue;
      const tell = () => ({
        sentence:
          `The rate of ${d.words.rate(rate)} charted at ${d.words.time(entry.at)} may have been ` +
          `${d.words.rate(slipped)}: with that the reading would agree.`,
        proposals: [
          amend(id, { ...entry, rate: slipped }, "The decimal point of the rate was in the wrong place."),
        ],
      });
      yield { increment: d.reading.comparison.increment, would, share: SLIP / (2 * all.length), tell };
    }
  }
}

/** What would be computed had a stretch gone on at another rate from an instant; null if there is not so much left. */
function atRate(d: Disagreeing, stretch: Stretch, from: Instant, rate: Rate): Volume | null {
  const flowing = flowingBetween(stretch.flows, from, stretch.end);
  const more = minus(delivered(rate, flowing), delivered(stretch.rate, flowing));
  return stretch.left !== null && more > stretch.left ? null : plus(d.reading.comparison.computed, more);
}

/**
 * The stretches of the span. Boluses, keep-open rates and flows that came to their limit are none: another
 * rate would have changed when they ended, not what they delivered.
 */
function stretches(d: Disagreeing): Stretch[] {
  const all: Stretch[] = [];
  const left = { primary: room(d, "primary"), secondary: room(d, "secondary") };
  for (const flow of countedFlows(d)) {
    const { role, rate, start, end } = flow;
    if ((role !== "primary" && role !== "secondary") || endedByItself(d, flow)) continue;
    const setBy = onChannel(d).findLast(({ placed }) => sets(placed.entry, role) && placed.entry.at <= start);
    const before = all.findLast((stretch) => stretch.role === role);
    if (before !== undefined && before.rate === rate && before.setBy === setBy) {
      all[all.indexOf(before)] = { ...before, flows: [...before.flows, flow], end };
    } else {
      all.push({
        role,
        rate,
        flows: [flow],
        start: latest(start, d.reading.over.from),
        end,
        setBy,
        left: left[role],
      });
    }
  }
  return all;
}

function sets({ kind, ...entry }: Reported["placed"]["entry"], role: Role): boolean {
  if (kind === "rate-changed") return "role" in entry && entry.role === role;
  return kind === (role === "primary" ? "flow-started" : "secondary-started");
}
