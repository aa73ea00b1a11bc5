/**
 * A flow was computed to end and nothing recorded in time says that it did: what flowed afterwards,
 * if anything, is not known. A later entry ends that span, and only one from within it, or a reading that
 * says what was delivered over it, fills it.
 */

import type { Collected } from "../../infusion/collected.js";
import type { UnknownSpan } from "../../infusion/flow.js";
import type { FlowSource } from "../../infusion/state.js";
import { unconfirmedSpan } from "../../infusion/step.js";
import type { Instant } from "../../time/instant.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { ending, lastFlow, startOf } from "../trace.js";

export const endUnconfirmed: Rule = {
  code: "end-unconfirmed",
  runs: "asking",
  find: (evidence) => spansOf(evidence).flatMap((span) => found(span, evidence)),
};

/** The spans that an entry ended, and those that are still open at the end of the evidence. */
function spansOf({ collected, state, until, settingsAt }: Evidence): UnknownSpan[] {
  const open = [...state.channels.values()].flatMap((channel) => {
    const end = channel.unconfirmed;
    return end === null ? [] : (unconfirmedSpan(channel, end, until, settingsAt) ?? []);
  });
  const ended = collected.unknown.filter(({ reason }) => reason === "end-unconfirmed");
  return [...ended, ...open].filter((span) => !isKnown(span, collected));
}

/** Whether a total that was read, or a level of a gravity set, says what was delivered over a span. */
function isKnown(span: UnknownSpan, { readings, levels }: Collected): boolean {
  const covers = ({ over, at, channel }: { over: { from: Instant }; at: Instant; channel: string }) =>
    channel === span.channel && over.from <= span.start && span.end <= at;
  return (
    readings.some(
      (reading) =>
        covers(reading) &&
        reading.total === span.total &&
        (reading.outcome === "agrees" || reading.outcome === "settled"),
    ) || levels.some((level) => level.anchors && covers(level) && level.bag === span.bag)
  );
}

/** Hung on what started the flow; one whose start lies before the evidence, on what told its bag's contents. */
function found(span: UnknownSpan, { collected, state, words }: Evidence): Found[] {
  const { channel, start, end } = span;
  const flow = lastFlow(collected, channel, start);
  const bag = span.bag === null ? undefined : state.bags.get(span.bag);
  const subject = flow === undefined ? bag?.mark.entry : startOf(flow);
  if (subject === undefined) return [];
  return [
    {
      code: "end-unconfirmed",
      severity: "attention",
      subject,
      channel,
      ...(span.total !== null && { totals: [span.total] }),
      start,
      end,
      entries: [subject],
      volume: null,
      sentence:
        `The flow on ${channel} was computed to end at ${words.time(start)}, and nothing recorded until ` +
        `${words.time(end)} says so: what flowed in that time, ${words.duration(end - start)}, is not known.`,
      settledBy: [
        {
          text: `Its end at ${words.time(start)}, if that is when it ended.`,
          proposals: [{ do: "record", entry: ending(sourceOf(span), channel, start) }],
        },
        { text: "What happened instead: a bag hung, a new volume to infuse, a later end." },
      ],
    },
  ];
}

function sourceOf({ role }: UnknownSpan): FlowSource {
  return role === "keep-open" ? "primary" : role;
}
