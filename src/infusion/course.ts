/**
 * The course of an encounter: a fold of its entries, in the order in which they count, over the state
 * of its channels and bags. `course-table.md` has what each entry does in each state, and a
 * test walks every cell.
 */

import { amountSettings } from "../conventions/dated.js";
import type { Instant } from "../time/instant.js";
import { advance } from "./advance.js";
import { measuredVolume } from "./amount.js";
import * as bags from "./bag-steps.js";
import * as chambers from "./chamber-steps.js";
import * as connections from "./connection-steps.js";
import type { Entry, IntakeMeasured, Placed } from "./entry.js";
import type { Sink } from "./flow.js";
import * as flows from "./flow-steps.js";
import * as outputs from "./output-steps.js";
import { reportedAlready } from "./report.js";
import * as segments from "./segment-steps.js";
import { Draft, type State } from "./state.js";
import { comeTo, type SettingsAt, type Step } from "./step.js";
import * as totals from "./total-steps.js";

/** The state after one entry. Entries must come in the order of `inOrder`. */
export function follow(state: State, placed: Placed, settingsAt: SettingsAt, sink: Sink): State {
  return followAll(state, [placed], settingsAt, sink);
}

/** The state after several entries in the order of `inOrder`: what it is made of is copied once for all of them. */
export function followAll(
  state: State,
  entries: Iterable<Placed>,
  settingsAt: SettingsAt,
  sink: Sink,
): State {
  const draft = new Draft(state);
  for (const { entry, id, sequence, source } of entries) {
    const run: Step = { draft, sink, settingsAt, at: entry.at, id, sequence, source };
    if ("channel" in entry) {
      comeTo(run, entry.channel);
      if (reportedAlready(run, entry, source)) continue;
    }
    apply(run, entry);
  }
  return draft.done();
}

/** The state with every channel worked out up to an instant, without any entry. */
export function comeUpTo(state: State, to: Instant, sink: Sink): State {
  const draft = new Draft(state);
  for (const { channel } of draft.everyChannel()) advance(draft, channel, to, sink);
  return draft.done();
}

function apply(run: Step, entry: Entry): void {
  switch (entry.kind) {
    case "channel-connected":
      return connections.connect(run, entry);
    case "channel-disconnected":
      return connections.disconnect(run, entry);
    case "line-placed":
      return connections.placeLine(run, entry);
    case "line-removed":
      return connections.removeLine(run, entry.line);
    case "away-started":
      return connections.leave(run, entry.flows);
    case "away-ended":
      return connections.comeBack(run);
    case "discharged":
      return connections.discharge(run);
    case "bag-hung":
      return bags.hang(run, entry);
    case "bag-taken-down":
      return bags.takeDown(run, entry);
    case "bag-adjusted":
      return bags.adjust(run, entry);
    case "bag-level-read":
      return bags.readLevel(run, entry);
    case "flow-started":
      return flows.start(run, entry);
    case "rate-changed":
      return flows.changeRate(run, entry);
    case "volume-to-infuse-set":
      return flows.setVolumeToInfuse(run, entry);
    case "flow-paused":
      return flows.pause(run, entry.channel);
    case "flow-resumed":
      return flows.resume(run, entry.channel);
    case "flow-stopped":
      return flows.stop(run, entry.channel);
    case "secondary-started":
      return flows.startSecondary(run, entry);
    case "secondary-ended":
      return flows.end(run, entry.channel, "secondary");
    case "bolus-started":
      return flows.startBolus(run, entry);
    case "bolus-stopped":
      return flows.end(run, entry.channel, "bolus");
    case "total-read":
      return totals.read(run, entry);
    case "totals-reset":
      return totals.reset(run, entry);
    case "therapy-changed":
      return totals.changeTherapy(run, entry);
    case "weight-measured":
      run.draft.weight = entry.weight;
      return;
    case "admitted":
      run.draft.weight = entry.weight ?? run.draft.weight;
      return;
    case "delivery-lost":
      connections.mustBeKnown(run, entry.channel);
      return;
    case "segment-read":
      return segments.tell(run, entry);
    case "intake-measured":
      return mustBeMeasurable(run, entry);
    case "chamber-placed":
      return chambers.place(run, entry);
    case "chamber-read":
      return chambers.read(run, entry);
    case "chamber-emptied":
      return chambers.empty(run, entry);
    case "output-measured":
      return outputs.measure(run, entry);
    // What follows moves no flow: it is charted, or gets its meaning from the readings around it.
    case "variance-settled":
    case "irrigant-instilled":
    case "moved":
      return;
    default:
      return entry satisfies never;
  }
}

function mustBeMeasurable(run: Step, { measure }: IntakeMeasured): void {
  if (measure === undefined || measuredVolume(measure, amountSettings(run.settingsAt, run.at)) !== undefined)
    return;
  outputs.noteUnknownMeasure(run, measure);
}
