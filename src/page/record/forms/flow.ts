/** What runs: its rate changed, started, held, let go on and ended. */

import type { Posted } from "../../api/shapes.js";
import type { Field, Form } from "../form.js";
import { type Asking, channelNamed, rateField, volumeField } from "./asking.js";

/** Drops a minute, as the set is counted. */
const DROPS = { most: 1_000, decimals: 3 };

export function rateForm(asking: Asking, channel: string): Form {
  const { words, rate: written } = asking.speech;
  const now = channelNamed(asking, channel);
  const flow = now?.flow ?? null;
  const hint = flow?.rate == null ? undefined : words.record.nowIs(written(flow.rate));
  const secondary = now?.delivering === "secondary";
  const role: Field = {
    is: "choice",
    key: "role",
    label: words.record.whose,
    options: (["secondary", "primary"] as const).map((value) => ({ value, label: words.roles[value] })),
  };
  const drops = flow?.dripRate !== undefined;
  return {
    title: words.record.titles.rate(channel),
    initial: secondary ? { role: "secondary" } : {},
    timed: true,
    fields: () => [...(secondary ? [role] : []), rateOrDrops(asking, drops, hint)],
    entries: (entered, at) => {
      const value = entered.number("rate");
      if (value === null) return null;
      const named = entered.text("role") === "secondary" ? "secondary" : "primary";
      const base = { kind: "rate-changed", at, channel, role: named } as const;
      return [drops ? { ...base, dripRate: value } : { ...base, rate: value }];
    },
  };
}

export function startForm(asking: Asking, channel: string): Form {
  const { words } = asking.speech;
  const limit = volumeField({ key: "limit", label: words.record.volumeToInfuse, optional: true });
  return {
    title: words.record.titles.start(channel),
    initial: {},
    timed: true,
    fields: () => [rateOrDrops(asking, false), limit],
    entries: (entered, at) => {
      const [rate, volume] = [entered.number("rate"), entered.number("limit")];
      if (rate === null) return null;
      return [
        { kind: "flow-started", at, channel, rate, ...(volume === null ? {} : { volumeToInfuse: volume }) },
      ];
    },
  };
}

function rateOrDrops({ speech: { words } }: Asking, drops: boolean, hint?: string): Field {
  const field = rateField({ key: "rate", label: words.record.rate, ...(hint === undefined ? {} : { hint }) });
  return drops ? { ...field, unit: words.record.dropsUnit, limits: DROPS } : field;
}

const PAUSED_FOR = ["by-clinician", "alarming", "switching-source"] as const;

export function pauseForm({ speech: { words } }: Asking, channel: string): Form {
  const reason: Field = {
    is: "choice",
    key: "reason",
    label: words.record.pausedFor,
    optional: true,
    options: PAUSED_FOR.map((value) => ({ value, label: words.record.pauseReasons[value] })),
  };
  return {
    title: words.record.titles.pause(channel),
    initial: {},
    timed: true,
    fields: () => [reason],
    entries: (entered, at) => {
      const given = PAUSED_FOR.find((one) => one === entered.text("reason"));
      return [{ kind: "flow-paused", at, channel, ...(given === undefined ? {} : { reason: given }) }];
    },
  };
}

/** What needs no more than its time. */
export const BARE = {
  resume: "flow-resumed",
  stop: "flow-stopped",
  "end-secondary": "secondary-ended",
  "stop-bolus": "bolus-stopped",
  therapy: "therapy-changed",
  disconnect: "channel-disconnected",
} as const;

export type BareAct = keyof typeof BARE;

export function bareForm({ speech: { words } }: Asking, act: BareAct, channel: string): Form {
  const told = act === "therapy" ? words.record.therapyIs : undefined;
  return {
    title: words.record.titles[act](channel),
    ...(told === undefined ? {} : { told }),
    initial: {},
    timed: true,
    fields: () => [],
    entries: (_, at) => [{ kind: BARE[act], at, channel }] as Posted[],
  };
}
