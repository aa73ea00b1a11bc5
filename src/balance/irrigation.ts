/** Irrigation by site: what went in, what came back, and what of it is still there. */

import type { Output } from "../infusion/evidence.js";
import { minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import type { Site } from "../infusion/state.js";

export interface Irrigation {
  readonly site: string;
  /** Irrigant that stood there before, and stands there now. */
  readonly broughtForward: Volume;
  readonly retained: Volume;
  readonly instilled: Volume;
  /** What was emptied, irrigant included; and of that the output. */
  readonly drained: Volume;
  readonly trueOutput: Volume;
  /** Irrigant ran in and nobody knows how much. */
  readonly unsure: boolean;
}

/**
 * Of every site that was irrigated over a period: from what stood there at its start and at its end, and what
 * was emptied between.
 */
export function irrigationOver(
  before: ReadonlyMap<string, Site>,
  outputs: readonly Output[],
  after: ReadonlyMap<string, Site>,
): Irrigation[] {
  const sites = new Set([...before.keys(), ...after.keys(), ...outputs.flatMap(({ site }) => site ?? [])]);
  return [...sites]
    .sort()
    .map((site) => irrigationAt(site, before.get(site), outputs, after.get(site)))
    .filter((one) => one.instilled !== NOTHING || one.broughtForward !== NOTHING || one.unsure);
}

function irrigationAt(
  site: string,
  before: Site | undefined,
  outputs: readonly Output[],
  after: Site | undefined,
): Irrigation {
  const own = outputs.filter((output) => output.site === site);
  const sum = (of: (output: Output) => Volume) => own.map(of).reduce(plus, NOTHING);
  const takenOff = sum(({ instilled }) => instilled);
  const trueOutput = sum(({ volume }) => volume);
  const [broughtForward, retained] = [before?.instilled ?? NOTHING, after?.instilled ?? NOTHING];
  return {
    site,
    broughtForward,
    retained,
    instilled: minus(plus(retained, takenOff), broughtForward),
    drained: plus(trueOutput, takenOff),
    trueOutput,
    unsure: (after?.unsure ?? false) || own.some(({ unsure }) => unsure),
  };
}
