/**
 * What is meant where an entry leaves a field out. An entry is kept as it was sent, so parsing fills
 * nothing in: the API description tells these, and decoding applies them.
 */

import type {
  BolusStarted,
  ChannelConnected,
  Role,
  SecondaryStarted,
  TotalName,
  VolumeToInfuse,
} from "../../infusion/entry.js";

interface Defaults {
  /** Of a bag, a rate or a volume to infuse. */
  readonly role: Role;
  readonly totals: ChannelConnected["totals"];
  readonly clearsOn: ChannelConnected["clearsOn"];
  readonly afterSecondary: SecondaryStarted["whenDone"];
  readonly afterBolus: BolusStarted["whenDone"];
  /** What a reset clears. */
  readonly reset: readonly TotalName[];
  readonly volumeToInfuse: VolumeToInfuse;
}

export const DEFAULTS: Defaults = {
  role: "primary",
  totals: "separate",
  clearsOn: ["therapy-change"],
  afterSecondary: "resume-primary",
  afterBolus: "return",
  reset: ["primary", "secondary", "combined"],
  volumeToInfuse: "bag",
};
