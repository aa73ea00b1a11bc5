/** Nobody charted that a flow was paused, or that a paused one went on. */

import { delivered, minus, NOTHING, plus } from "../../infusion/quantity.js";
import { later, latest, MINUTE } from "../../time/instant.js";
import { record } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { channelOf, interruptible, midway, missing, onChannel, room, wholeMinuteBefore } from "./span.js";
import { likeliest, type Supposed } from "./supposed.js";
import { INTERRUPTIONS } from "./usual.js";

export function pauseMissing(d: Disagreeing): Reason[] {
  return likeliest("pause-missing", d, missing(d) < NOTHING ? pauses(d) : resumptions(d));
}

/** In the middle of each flow, since nothing tells when. */
function* pauses(d: Disagreeing): Iterable<Supposed> {
  const { channel, comparison } = d.reading;
  const flows = interruptible(d);
  const whole = flows.reduce((sum, { start, end }) => sum + (end - start), 0);
  for (const flow of flows) {
    const part = (flow.end - flow.start) / whole;
    for (const { milliseconds, share } of INTERRUPTIONS) {
      const start = midway(flow, milliseconds);
      if (start === null) break;
      const would = minus(comparison.computed, delivered(flow.rate, milliseconds));
      const tell = () => ({
        sentence:
          `A pause of ${d.words.duration(milliseconds)} at ${d.words.rate(flow.rate)} may not have been charted; ` +
          `when it was is not known, ${d.words.time(start)} is a guess.`,
        proposals: [
          record({ kind: "flow-paused", at: start, channel }),
          record({ kind: "flow-resumed", at: later(start, milliseconds), channel }),
        ],
      });
      yield { increment: comparison.increment, would, share: share * part, tell };
    }
  }
}

/** A flow charted as paused up to the reading that went on some time before it; any minute is as likely. */
function* resumptions(d: Disagreeing): Iterable<Supposed> {
  const { channel, comparison, at, over, total, checkOnly } = d.reading;
  const now = channelOf(d);
  if (now?.hold !== "paused" || now.bolus !== null) return;
  const source = now.secondary !== null ? "secondary" : "primary";
  const rate = now[source]?.rate;
  if (rate === undefined || rate === "unknown") return;
  if (!checkOnly && total !== "combined" && total !== source) return;
  const pause = onChannel(d).findLast(({ placed }) => placed.entry.kind === "flow-paused");
  const since = latest(over.from, pause?.placed.entry.at ?? over.from);
  const left = room(d, source);
  for (let ago = wholeMinuteBefore(at); ago > since; ago = later(ago, -MINUTE)) {
    const resumed = later(ago, -MINUTE);
    const more = delivered(rate, at - resumed);
    if ((left !== null && more > left) || resumed < since) return;
    const tell = () => ({
      sentence:
        "It is charted as paused up to the reading; had it gone on at " +
        `${d.words.time(resumed)} at ${d.words.rate(rate)} the reading would agree.`,
      proposals: [record({ kind: "flow-resumed", at: resumed, channel })],
    });
    const would = plus(comparison.computed, more);
    yield { increment: comparison.increment, would, share: MINUTE / (at - since), tell };
  }
}
