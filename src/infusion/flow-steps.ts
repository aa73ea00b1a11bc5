/** What starts, changes, pauses and ends flows on a channel (the flow rows of the course table). */

import { endWhatIsDone, withoutSource } from "./advance.js";
import { limitBy } from "./bag-limits.js";
import { clear } from "./clear.js";
import { channelWith, programmeWith, withProgramme } from "./copies.js";
import type {
  BolusStarted,
  FlowStarted,
  RateChanged,
  SecondaryStarted,
  VolumeToInfuse,
  VolumeToInfuseSet,
} from "./entry.js";
import { NOTHING, type Volume, volumeOf } from "./quantity.js";
import { type Bag, type Channel, delivering, type Programme } from "./state.js";
import { type Step, withoutEffect } from "./step.js";

/** Takes over from whatever was: the programme and its limit start anew, the running totals do not. */
export function start(run: Step, entry: FlowStarted): void {
  const channel = run.draft.channel(entry.channel)!;
  if (!channel.connected || channel.line === null) return notConnected(run, channel);
  const programme = programmed(
    run,
    entry.rate,
    limit(entry.volumeToInfuse, run.draft.bag(channel.primaryBag)),
    {
      followsBag: entry.volumeToInfuse === "bag",
      keepOpenRate: entry.keepOpenRate ?? null,
    },
  );
  run.draft.put(
    channelWith(channel, {
      hold: "none",
      primary: programme,
      secondary: null,
      bolus: null,
      endedThemselves: [],
    }),
  );
  noteIfNothingToGive(run, channel.channel, programme);
}

export function changeRate(run: Step, entry: RateChanged): void {
  const channel = endWhatIsDone(run.draft, entry.channel, run.sink);
  const programme = channel[entry.role];
  if (programme === null) return withoutEffect(run, channel.channel, `no ${entry.role} is programmed`);
  if (programme.keepingOpen) {
    return withoutEffect(
      run,
      channel.channel,
      "the flow is at its keep-open rate; start it to change its rate",
    );
  }
  run.draft.put(withProgramme(channel, entry.role, programmeWith(programme, { rate: entry.rate })));
}

/** At its keep-open rate a primary has not ended: with a new volume to infuse it runs at its own rate again. */
export function setVolumeToInfuse(run: Step, entry: VolumeToInfuseSet): void {
  const channel = run.draft.channel(entry.channel)!;
  const programme = channel[entry.role];
  if (programme === null) return withoutEffect(run, channel.channel, `no ${entry.role} is programmed`);
  const own = entry.role === "secondary" ? run.draft.bag(channel.secondaryBag) : undefined;
  const left = limit(entry.volumeToInfuse, own ?? run.draft.bag(channel.primaryBag));
  const followsBag = entry.volumeToInfuse === "bag";
  run.draft.put(
    withProgramme(channel, entry.role, programmeWith(programme, { left, followsBag, keepingOpen: false })),
  );
}

export function pause(run: Step, key: string): void {
  const channel = endWhatIsDone(run.draft, key, run.sink);
  const flows = delivering(channel) !== null || mayFlowUntold(channel);
  if (!flows) return withoutEffect(run, key, "nothing was flowing to pause");
  run.draft.put(channelWith(channel, { hold: "paused" }));
}

export function resume(run: Step, key: string): void {
  const channel = endWhatIsDone(run.draft, key, run.sink);
  if (channel.hold === "none") return withoutEffect(run, key, "the channel was neither paused nor waiting");
  const resumed = run.draft.put(channelWith(channel, { hold: "none" }));
  const goesOn = delivering(resumed) !== null || mayFlowUntold(resumed);
  if (!goesOn) withoutEffect(run, key, "nothing was left to go on");
}

/** Ends the primary and a bolus; a secondary finishes, then nothing flows. */
export function stop(run: Step, key: string): void {
  const channel = run.draft.channel(key)!;
  const running = channel.primary !== null || channel.bolus !== null;
  const done = channel.endedThemselves.includes("primary") || channel.endedThemselves.includes("bolus");
  if (!running && !done && !mayFlowUntold(channel))
    return withoutEffect(run, key, "no primary flow or bolus was programmed to stop");
  const stopped = channelWith(channel, { primary: null, bolus: null, endedThemselves: [] });
  if (stopped.secondary === null) {
    run.draft.put(channelWith(stopped, { hold: channel.type === "metered" ? "stopped" : "none" }));
    return;
  }
  // A secondary that a bolus interrupted finishes now, whatever the bolus was to do when done.
  const hold = channel.bolus !== null && channel.hold !== "paused" ? "none" : channel.hold;
  run.draft.put(
    channelWith(stopped, { hold, secondary: programmeWith(stopped.secondary, { whenDone: "go-on" }) }),
  );
}

/** What a metered channel delivers no entry tells, so it may flow as long as nobody says otherwise. */
function mayFlowUntold({ type, connected, hold }: Channel): boolean {
  return type === "metered" && connected && hold === "none";
}

/** Takes over from everything but remembers the primary. */
export function startSecondary(run: Step, entry: SecondaryStarted): void {
  const channel = run.draft.channel(entry.channel)!;
  if (!channel.connected || channel.line === null) return notConnected(run, channel);
  const source = run.draft.bag(channel.secondaryBag) ?? run.draft.bag(channel.primaryBag);
  const programme = programmed(run, entry.rate, limit(entry.volumeToInfuse, source), {
    followsBag: entry.volumeToInfuse === "bag",
    whenDone: entry.whenDone === "wait" ? "wait" : "go-on",
  });
  const clears = channel.clearsOn.includes("new-secondary") && channel.counters.secondary !== undefined;
  run.draft.put(
    channelWith(channel, {
      hold: "none",
      secondary: programme,
      bolus: null,
      endedThemselves: channel.endedThemselves.filter((source) => source === "primary"),
      counters: clears ? clear(run, channel, ["secondary"], entry.leaveUncaptured) : channel.counters,
    }),
  );
  noteIfNothingToGive(run, channel.channel, programme);
}

/** Interrupts what delivers, ends a pause, and returns to what it interrupted. */
export function startBolus(run: Step, entry: BolusStarted): void {
  const channel = run.draft.channel(entry.channel)!;
  if (!channel.connected || channel.line === null) return notConnected(run, channel);
  const returnsTo = channel.bolus?.returnsTo ?? (channel.hold === "waiting" ? "waiting" : "none");
  const programme = programmed(run, entry.rate, volumeOf(entry.volume), {
    whenDone: entry.whenDone === "wait" ? "wait" : "go-on",
    returnsTo,
  });
  run.draft.put(
    channelWith(channel, {
      hold: "none",
      bolus: programme,
      endedThemselves: channel.endedThemselves.filter((source) => source !== "bolus"),
    }),
  );
}

/** A secondary or bolus is ended by a person; charted after it ended by itself, the entry confirms that. */
export function end(run: Step, key: string, source: "secondary" | "bolus"): void {
  const channel = run.draft.channel(key)!;
  if (channel[source] !== null) {
    run.draft.put(withoutSource(channel, source));
  } else if (channel.endedThemselves.includes(source)) {
    run.draft.put(
      channelWith(channel, {
        endedThemselves: channel.endedThemselves.filter((other) => other !== source),
      }),
    );
  } else {
    withoutEffect(run, key, `no ${source} was running`);
  }
}

/** Ends all that flows on a channel, or waits to. */
export function endAll(channel: Channel): Channel {
  return channelWith(channel, {
    hold: "none",
    primary: null,
    secondary: null,
    bolus: null,
    endedThemselves: [],
  });
}

/** The volume to infuse: as given, none, or what the bag holds; without a bag there is no limit to know. */
export function limit(given: VolumeToInfuse, bag: Bag | undefined): Volume | null {
  if (given === "none") return null;
  if (given !== "bag") return volumeOf(given);
  return bag === undefined ? null : limitBy(bag);
}

function programmed(
  run: Step,
  rate: Programme["rate"],
  left: Volume | null,
  rest: Partial<Programme>,
): Programme {
  return {
    rate,
    left,
    followsBag: false,
    keepOpenRate: null,
    keepingOpen: false,
    whenDone: "go-on",
    returnsTo: "none",
    startedBy: run.id,
    ...rest,
  };
}

/** A limit of nothing ends the flow as it starts: an emptied bag, or a volume to infuse of 0. */
function noteIfNothingToGive(run: Step, channel: string, { left }: Programme): void {
  if (left !== null && left <= NOTHING) {
    withoutEffect(run, channel, "there is nothing to infuse, so the flow ends as it starts");
  }
}

function notConnected(run: Step, channel: Channel): void {
  withoutEffect(run, channel.channel, "the channel is not connected to a line");
}
