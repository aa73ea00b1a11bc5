/** Irrigation by site over a period: what went in, what came back, and what of it is still there. */

import { minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import { type Instant, latest, type Period } from "../time/instant.js";
import type { Certainty } from "./certainty.js";
import { BEGINNING, type Inflow } from "./inflow.js";
import type { TrueOutputs } from "./true-output.js";

export interface Irrigation {
  readonly site: string;
  /** Irrigant that stood there before, and stands there now. */
  readonly broughtForward: Volume;
  readonly retained: Volume;
  readonly instilled: Volume;
  /** What was emptied, irrigant included; and of that the output. */
  readonly drained: Volume;
  readonly trueOutput: Volume;
  /** More may have come out than is known; and where nobody knows what ran in, every figure may be off. */
  readonly certainty: Certainty;
}

export interface Irrigated extends TrueOutputs {
  readonly inflow: Inflow;
}

/** Whether what is charted at an instant counts up to another one, as it does in an interval that ends there. */
export type CountsBy = (at: Instant, end: Instant) => boolean;

/** Of every site that was irrigated by the end of a period and had to do with it. */
export function irrigationOver(irrigated: Irrigated, period: Period, countsBy: CountsBy): Irrigation[] {
  const sites = new Set([...irrigated.inflow.irrigated, ...irrigated.instilled.map(({ site }) => site)]);
  return [...sites]
    .sort()
    .map((site) => new AtSite(site, irrigated, countsBy).over(period))
    .filter((one) => one.instilled !== NOTHING || one.broughtForward !== NOTHING || one.certainty.less);
}

class AtSite {
  constructor(
    private readonly site: string,
    private readonly irrigated: Irrigated,
    private readonly countsBy: CountsBy,
  ) {}

  over({ start, end }: Period): Irrigation {
    const { site, countsBy } = this;
    const own = this.outputs(end).filter(({ at }) => !countsBy(at, start));
    const isUnsure = this.isUnsure(end) || own.some(({ unsure, orMore }) => unsure || orMore);
    return {
      site,
      broughtForward: this.retained(start),
      retained: this.retained(end),
      instilled: minus(this.instilled(end), this.instilled(start)),
      drained: sum(own.map(({ drained }) => drained)),
      trueOutput: sum(own.map(({ volume }) => volume)),
      certainty: { more: isUnsure || own.some(({ leftOut }) => leftOut > 0), less: isUnsure },
    };
  }

  private outputs(by: Instant) {
    return this.irrigated.outputs.filter(({ site, at }) => site === this.site && this.countsBy(at, by));
  }

  private byHand(by: Instant) {
    return this.irrigated.instilled.filter(({ site, at }) => site === this.site && this.countsBy(at, by));
  }

  private instilled(by: Instant): Volume {
    const ran = this.irrigated.inflow.between(this.site, BEGINNING, by).volume;
    return plus(ran, sum(this.byHand(by).map(({ volume }) => volume ?? NOTHING)));
  }

  private retained(at: Instant): Volume {
    return minus(this.instilled(at), sum(this.outputs(at).map(({ instilled }) => instilled)));
  }

  /** Whether nobody knows what of what stands there by an instant went in. */
  private isUnsure(by: Instant): boolean {
    const emptied = (this.irrigated.emptied.get(this.site) ?? []).filter((at) => this.countsBy(at, by));
    const since = latest(BEGINNING, ...emptied);
    const { more, less } = this.irrigated.inflow.between(this.site, since, by).certainty;
    return more || less || this.byHand(by).some(({ at, volume }) => volume === null && since <= at);
  }
}

function sum(volumes: readonly Volume[]): Volume {
  return volumes.reduce(plus, NOTHING);
}
