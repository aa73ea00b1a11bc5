/**
 * One event reported by both a person and a device: same channel, kind and value within three
 * minutes. The earlier of the two times counts, whichever was recorded first; the other report is
 * linked to it and changes nothing. What answers a question is no repetition: a person who reads the total
 * that a device said, while that is in doubt, or confirms its segment.
 */

import { channelWith } from "./copies.js";
import type { Entry, Source } from "./entry.js";
import { type Channel, stillYoung } from "./state.js";
import type { Step } from "./step.js";

type OnChannel = Extract<Entry, { channel: string }>;

/** Whether the entry repeats what the other source reported; remembers it otherwise. */
export function reportedAlready(run: Step, entry: OnChannel, source: Source): boolean {
  const channel = run.draft.channel(entry.channel)!;
  const value = sameness(entry);
  const young = channel.reports.filter((report) => stillYoung(report, run.at));
  const twin = young.find(
    (report) => report.source !== source && report.kind === entry.kind && report.value === value,
  );
  if (twin === undefined || answersADevice(channel, entry, source)) {
    const report = { entry: run.id, at: run.at, source, kind: entry.kind, value };
    run.draft.put(channelWith(channel, { reports: [...young, report] }));
    return false;
  }
  // A report has one twin: a third one is an event of its own.
  run.draft.put(channelWith(channel, { reports: young.filter((report) => report !== twin) }));
  run.sink.note({
    code: "reported-twice",
    at: run.at,
    entry: run.id,
    channel: entry.channel,
    twin: twin.entry,
    why: `the ${twin.source} reported the same event; it counts once`,
  });
  return true;
}

/** A person who reads what a device said, while that is still in question, has looked: it is no mere repetition. */
function answersADevice({ counters }: Channel, entry: OnChannel, source: Source): boolean {
  if (source !== "person") return false;
  if (entry.kind === "segment-read") return entry.confirmed === true;
  if (entry.kind !== "total-read") return false;
  return counters[entry.total]?.other?.doubt === "waiting";
}

/** What makes two reports of a kind the same event, as text. */
function sameness(entry: OnChannel): string {
  switch (entry.kind) {
    case "flow-started":
    case "rate-changed":
    case "secondary-started":
      return String(entry.rate) + ("role" in entry ? ` ${entry.role}` : "");
    case "volume-to-infuse-set":
      return `${entry.role} ${entry.volumeToInfuse}`;
    case "bolus-started":
      return String(entry.volume);
    case "bag-hung":
      return entry.bag;
    case "total-read":
      return `${entry.total} ${entry.volume}`;
    case "totals-reset":
      return [...entry.totals].sort().join(" ");
    case "channel-connected":
      return entry.line;
    case "delivery-lost":
      return String(entry.volume);
    case "segment-read":
      return `${entry.start} ${entry.volume}`;
    case "channel-disconnected":
    case "flow-paused":
    case "flow-resumed":
    case "flow-stopped":
    case "secondary-ended":
    case "bolus-stopped":
    case "therapy-changed":
      return "";
    default:
      return entry satisfies never;
  }
}
