/** What connecting, disconnecting, removing a line, time away and discharge do to channels. */

import { advance, endWhatIsDone } from "./advance.js";
import { clearAll, keptOrFresh } from "./clear.js";
import { channelWith } from "./copies.js";
import type { ChannelConnected, ChannelDisconnected, LinePlaced } from "./entry.js";
import { endAll } from "./flow-steps.js";
import { type Channel, delivering } from "./state.js";
import { comeTo, type Step, withoutEffect } from "./step.js";

/**
 * Connected again, on another line the volume goes there from then on; with another device the totals
 * are that device's, and nothing flows until started.
 */
export function connect(run: Step, connected: ChannelConnected): void {
  // A gravity set has no counter, whatever was charted of one.
  const entry: ChannelConnected = connected.type === "gravity" ? { ...connected, totals: "none" } : connected;
  const channel = run.draft.channel(entry.channel)!;
  if (run.draft.discharged) return withoutEffect(run, channel.channel, "the stay had ended");
  if (!run.draft.lines.has(entry.line)) withoutEffect(run, channel.channel, "nobody placed that line");
  const device = entry.device ?? channel.device;
  const otherDevice =
    channel.device !== null && entry.device !== undefined && entry.device !== channel.device;
  const unchanged = channel.connected && channel.line === entry.line && !otherDevice;
  if (unchanged && device !== channel.device) {
    run.draft.put(channelWith(channel, { device }));
    return;
  }
  if (unchanged) return withoutEffect(run, channel.channel, "the channel was connected to that line already");
  const next: Channel = {
    ...(otherDevice ? endAll(channel) : channel),
    line: entry.line,
    connected: true,
    type: entry.type,
    totals: entry.totals,
    clearsOn: entry.clearsOn,
    device,
    rateStep: entry.rateStep ?? channel.rateStep,
    dropFactor: entry.dropFactor ?? channel.dropFactor,
    counters: otherDevice
      ? clearAll(run, channel, entry.totals, entry.leaveUncaptured)
      : keptOrFresh(run, channel, entry),
  };
  run.draft.put(next);
}

export function disconnect(run: Step, { channel: key, leaveUncaptured }: ChannelDisconnected): void {
  const channel = endWhatIsDone(run.draft, key, run.sink);
  if (!channel.connected) return withoutEffect(run, key, "the channel was not connected");
  noteIfFlowing(run, channel, "the channel was disconnected while it delivered");
  const ended = channelWith(endAll(channel), { connected: false });
  run.draft.put(
    channel.clearsOn.includes("disconnect")
      ? channelWith(ended, { counters: clearAll(run, channel, channel.totals, leaveUncaptured) })
      : ended,
  );
}

/** What a line gives that irrigates is no intake, and reaches no patient. */
export function placeLine({ draft }: Step, { line, route }: LinePlaced): void {
  draft.lines = new Set([...draft.lines, line]);
  if (route === "irrigation") draft.irrigating = new Set([...draft.irrigating, line]);
}

/** A line nobody placed may be a slip of the key: what flows elsewhere would go on unseen. */
export function removeLine(run: Step, line: string): void {
  if (!run.draft.lines.has(line))
    withoutEffect(run, null, "nobody placed that line, or it was removed before");
  run.draft.lines = new Set([...run.draft.lines].filter((one) => one !== line));
  for (const { channel: key, line: itsLine, connected } of run.draft.everyChannel()) {
    if (itsLine !== line || !connected) continue;
    comeTo(run, key);
    const channel = endWhatIsDone(run.draft, key, run.sink);
    noteIfFlowing(run, channel, "the line was removed while the channel delivered");
    run.draft.put(channelWith(endAll(channel), { line: null }));
  }
}

/** Away with flows unknown, the course waits for the return; with flows that go on, it goes on (again). */
export function leave(run: Step, flows: "go-on" | "unknown"): void {
  const unknown = flows === "unknown";
  if (unknown && run.draft.awayUnknown) return withoutEffect(run, null, "the patient was away already");
  if (unknown === run.draft.awayUnknown) return;
  everyChannelComesTo(run);
  run.draft.awayUnknown = unknown;
}

export function comeBack(run: Step): void {
  if (!run.draft.awayUnknown) return;
  everyChannelComesTo(run);
  run.draft.awayUnknown = false;
}

/** What still runs ends with the stay. */
export function discharge(run: Step): void {
  for (const { channel: key } of run.draft.everyChannel()) {
    comeTo(run, key);
    const channel = endWhatIsDone(run.draft, key, run.sink);
    noteIfFlowing(run, channel, "the stay ended while the channel delivered");
    run.draft.put(channelWith(endAll(channel), { connected: false }));
  }
  run.draft.discharged = true;
}

/** Time away says nothing about a channel in particular, so it confirms no computed end. */
function everyChannelComesTo(run: Step): void {
  for (const { channel } of run.draft.everyChannel()) advance(run.draft, channel, run.at, run.sink);
}

/** Notes an entry about a channel that was never connected; whether it was. */
export function mustBeKnown(run: Step, key: string): boolean {
  const { line, connected } = run.draft.channel(key)!;
  const known = line !== null || connected;
  if (!known) withoutEffect(run, key, "the channel was never connected to a line");
  return known;
}

function noteIfFlowing(run: Step, channel: Channel, why: string): void {
  if (delivering(channel) === null) return;
  run.sink.note({ code: "line-removed-running", at: run.at, entry: run.id, channel: channel.channel, why });
}
