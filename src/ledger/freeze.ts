/**
 * What an entry that tells a dose, drops per minute or a duration comes to as a rate, and from when on a level
 * counts that was charted into signed time. It happens once, with what is known at the entry's place in the
 * course when it is recorded, and is kept with it.
 */

import { stepOf } from "../conventions/settings.js";
import { sameDrug } from "../infusion/concentration.js";
import { concentrationIn, dissolvedIn } from "../infusion/contents.js";
import { type DoseBasis, rateForDose, volumeForDose } from "../infusion/dose.js";
import { type DoseFault, isDoseFault } from "../infusion/dose-fault.js";
import { rateForDrops } from "../infusion/drops.js";
import { shownAs } from "../infusion/quantity.js";
import { DEFAULT_RATE_STEP, rateOver } from "../infusion/rate-step.js";
import type { Bag, Channel, State } from "../infusion/state.js";
import { latest } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import type { PostedEntry, PostedFact } from "../wire/entry.js";
import { readDuration, readInstant } from "../wire/instant.js";
import { microlitres, millilitres, scaled } from "../wire/quantity.js";
import type { Frozen } from "./record.js";
import type { Signature } from "./signatures.js";

/** Kinds that say how fast, and may say it other than as a rate. */
type WithSpeed = Extract<
  PostedFact,
  { kind: "flow-started" | "rate-changed" | "secondary-started" | "bolus-started" }
>;

type Level = Extract<PostedFact, { kind: "bag-level-read" }>;

/** Whether it has to be settled what an entry comes to before it can count. */
export function needsFreezing(posted: PostedEntry): posted is WithSpeed | Level {
  switch (posted.kind) {
    case "flow-started":
    case "rate-changed":
    case "secondary-started":
    case "bolus-started":
      return "dose" in posted || "dripRate" in posted || "over" in posted;
    case "bag-level-read":
      return true;
    default:
      return false;
  }
}

/**
 * Drops per minute of a set whose drop factor nobody charted, or a duration for a bag nobody charted: it
 * flows, and is recorded, but nobody knows how fast. An amendment gives it sense later.
 */
const NOBODY_KNOWS: Frozen = { rate: "unknown" };

/**
 * What the entry comes to, given the state just before it in order, and what was signed when its original was
 * recorded; or why it comes to nothing.
 */
export function freeze(
  posted: WithSpeed | Level,
  state: State,
  signed: readonly Signature[],
): Frozen | DoseFault {
  return posted.kind === "bag-level-read" ? freezeLevel(posted, state, signed) : freezeSpeed(posted, state);
}

function freezeSpeed(posted: WithSpeed, state: State): Frozen | DoseFault {
  const channel = state.channels.get(posted.channel);
  const step = channel?.rateStep ?? DEFAULT_RATE_STEP;
  const bag = bagOf(posted, state, channel);
  if (posted.kind === "bolus-started") return freezeBolus(posted, state, bag, step);
  if ("dripRate" in posted) {
    const factor = channel?.dropFactor;
    if (factor === undefined || factor === null) return NOBODY_KNOWS;
    return rateOnly(rateForDrops(scaled(posted.dripRate, 3), factor));
  }
  if ("over" in posted) {
    const volume =
      posted.volumeToInfuse === undefined ? held(bag) : microlitres(posted.volumeToInfuse as number);
    if (volume === undefined || volume <= 0) return NOBODY_KNOWS;
    return rateOnly(rateOver(volume, readDuration(posted.over), step));
  }
  if (!("dose" in posted) || posted.dose === undefined) return {};
  const { basis, kept } = basisOf(posted.dose.of, posted, state, bag);
  const rate = rateForDose(doseOf(posted.dose), basis, step);
  // Where both are sent the rate is what flows: a dose that comes to none is kept and found, not refused.
  if ("rate" in posted) return isDoseFault(rate) ? {} : { doseRate: millilitres(rate), ...kept };
  return isDoseFault(rate) ? preferring(basis.fault, rate) : { rate: millilitres(rate), ...kept };
}

/**
 * A level makes the course of a gravity set another from its time on. What was signed is not to move by it, so it
 * counts once all is over that signed figures rest on: the spans themselves, and the levels after them that tell
 * of them. Of other channels it moves nothing anyway.
 */
function freezeLevel({ bag, at }: Level, { bags, channels }: State, signed: readonly Signature[]): Frozen {
  const channel = channels.get(bags.get(bag)?.channel ?? "");
  if (channel !== undefined && channel.type !== "gravity") return {};
  const restingOn = ({ rests }: Signature) =>
    rests.filter((rest) => channel === undefined || rest.channel === channel.channel);
  const ends = signed.flatMap((one) => [one.to, ...restingOn(one).map(({ to }) => to)]);
  const last = latest(readInstant(at), ...ends);
  return last === readInstant(at) ? {} : { countsFrom: formatInstant(last, "UTC") };
}

type Bolus = Extract<WithSpeed, { kind: "bolus-started" }>;

function freezeBolus(posted: Bolus, state: State, bag: Bag | undefined, step: number): Frozen | DoseFault {
  let volume: number;
  let kept: Frozen = {};
  if ("dose" in posted) {
    const told = basisOf(posted.dose.of, posted, state, bag);
    const ofDose = volumeForDose(doseOf(posted.dose), told.basis);
    if (isDoseFault(ofDose)) return preferring(told.basis.fault, ofDose);
    volume = ofDose;
    kept = { volume: millilitres(volume), ...told.kept };
  } else volume = microlitres(posted.volume);
  if (!("over" in posted)) return kept;
  const rate = rateOver(volume, readDuration(posted.over), step);
  return isDoseFault(rate) ? rate : { rate: millilitres(rate), ...kept };
}

/** The bag that an entry's flow will draw from. */
function bagOf(posted: WithSpeed, state: State, channel: Channel | undefined): Bag | undefined {
  const secondary =
    posted.kind === "secondary-started" || (posted.kind === "rate-changed" && posted.role === "secondary");
  const own = secondary ? channel?.secondaryBag : null;
  const key = own ?? channel?.primaryBag;
  return key === null || key === undefined ? undefined : state.bags.get(key);
}

function held(bag: Bag | undefined): number | undefined {
  return bag === undefined ? undefined : shownAs(bag.holds, stepOf(1));
}

function doseOf(dose: { value: number; unit: string }) {
  return { value: scaled(dose.value, 6), unit: dose.unit };
}

/** Weight and concentration as they stand, in the calculation's units and as they are kept. */
function basisOf(
  of: string | undefined,
  posted: WithSpeed,
  state: State,
  bag: Bag | undefined,
): { basis: DoseBasis & { fault?: DoseFault }; kept: Frozen } {
  const programmed = "programmedWeight" in posted ? posted.programmedWeight : undefined;
  const weight =
    programmed === undefined
      ? (state.weight ?? undefined)
      : { value: scaled(programmed.value, 3), unit: programmed.unit };
  const concentration = bag === undefined ? undefined : concentrationIn(bag.contents, of);
  const additive = bag?.contents?.additives.find(({ name }) => of === undefined || sameDrug(name, of));
  return {
    basis: {
      weight,
      concentration: isDoseFault(concentration) ? undefined : concentration,
      ...(isDoseFault(concentration) ? { fault: concentration } : {}),
    },
    kept: {
      ...(weight === undefined ? {} : { weight: { value: weight.value / 1_000, unit: weight.unit } }),
      ...(additive === undefined || isDoseFault(concentration)
        ? {}
        : {
            concentration: {
              additive: additive.name,
              amount: additive.amount / 1_000_000,
              unit: additive.unit,
              in: millilitres(shownAs(dissolvedIn(bag!.contents!), stepOf(1))),
            },
          }),
    },
  };
}

/** Why there is no concentration says more than that there is none. */
function preferring(why: DoseFault | undefined, fault: DoseFault): DoseFault {
  return fault.code === "dose-without-concentration" && why !== undefined ? why : fault;
}

function rateOnly(rate: ReturnType<typeof rateForDrops>): Frozen | DoseFault {
  return isDoseFault(rate) ? rate : { rate: millilitres(rate) };
}
