/** A channel delivers and no bag was recorded: the volume counts, of a fluid nobody knows. */

import type { Flow } from "../../infusion/flow.js";
import { NOTHING, plus } from "../../infusion/quantity.js";
import { MINUTE } from "../../time/instant.js";
import type { Evidence, Found, Rule } from "../finding.js";
import { startOf } from "../trace.js";

/** A bag charted after the start it belongs to is soon there. */
const LONGER_THAN = 15 * MINUTE;

export const flowWithoutBag: Rule = {
  code: "flow-without-bag",
  runs: "asking",
  find: (evidence) =>
    byStart(evidence).flatMap((flows) => {
      const flowing = flows.reduce((sum, { start, end }) => sum + (end - start), 0);
      return flowing > LONGER_THAN ? [found(flows, evidence)] : [];
    }),
};

/** A metered channel counts what it delivers by itself, and may have no bag. */
function byStart({ collected, state }: Evidence): Flow[][] {
  const stretches = new Map<string, Flow[]>();
  for (const flow of collected.flows) {
    if (flow.bag !== null || state.channels.get(flow.channel)?.type === "metered") continue;
    const key = `${flow.channel} ${startOf(flow)}`;
    stretches.set(key, [...(stretches.get(key) ?? []), flow]);
  }
  return [...stretches.values()];
}

function found(flows: readonly Flow[], { words, until }: Evidence): Found {
  const [first, last] = [flows[0]!, flows.at(-1)!];
  const volume = flows.reduce((sum, flow) => plus(sum, flow.volume), NOTHING);
  const goesOn = last.end === until;
  return {
    code: "flow-without-bag",
    severity: "attention",
    subject: startOf(first),
    channel: first.channel,
    start: first.start,
    ...(goesOn ? {} : { end: last.end }),
    entries: [startOf(first)],
    volume,
    sentence:
      `${first.channel} delivered ${words.volume(volume)} since ${words.time(first.start)} and no bag ` +
      "was recorded on it.",
    settledBy: [{ text: `The bag that hung at ${words.time(first.start)}, recorded late.` }],
  };
}
