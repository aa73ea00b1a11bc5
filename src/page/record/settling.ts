/** Which sheet settles a finding: the entry that the ledger has ready, else the act that its kind asks for. */

import type { ChannelTotals, Finding } from "../api/shapes.js";
import { actsOf, type ChannelAct } from "./acts.js";
import { readyIn } from "./forms/ready.js";
import type { Open } from "./opened.js";

/** What settles findings that name no entry; of a channel only where it makes sense there. */
const ACTS: Partial<Record<Finding["code"], ChannelAct | "output" | "weight" | "sign">> = {
  "totals-at-risk": "reading",
  "no-reading-at-shift-end": "reading",
  "flow-unattended": "reading",
  "pause-not-ended": "resume",
  "secondary-not-ended": "end-secondary",
  "keep-open-running": "bag",
  "flow-without-bag": "bag",
  "bag-ran-dry": "bag",
  "bag-overdrawn": "bag",
  "output-gap": "output",
  "weight-missing": "weight",
  "shift-unsigned": "sign",
  "signed-shift-changed": "sign",
};

/** What opens to settle a finding by its nth way; null where it is no one act. */
export function settling(finding: Finding, way: number, channels: readonly ChannelTotals[]): Open | null {
  const settlement = finding.settledBy[way];
  if (settlement !== undefined && readyIn(settlement) !== null) return { act: "settle", finding, settlement };
  // What is not ready as an entry is one act at most, and that the first.
  if (way > 0) return null;
  const act = ACTS[finding.code];
  if (act === undefined) return null;
  if (act === "sign") {
    const { shift } = finding.concerns;
    return shift === undefined ? null : { act, shift };
  }
  if (act === "output" || act === "weight") return { act };
  const concerned = channelOf(finding, channels);
  if (concerned === undefined || !actsOf(concerned).includes(act)) return null;
  return { act, channel: concerned.channel };
}

/** The channel that a finding is about: the one it names, else the one that runs with the most unwritten. */
function channelOf(
  { concerns, code }: Finding,
  channels: readonly ChannelTotals[],
): ChannelTotals | undefined {
  if (typeof concerns.channel === "string")
    return channels.find(({ channel }) => channel === concerns.channel);
  if (code !== "flow-unattended") return undefined;
  const risk = ({ totals }: ChannelTotals) => totals.reduce((sum, { atRisk }) => sum + atRisk, 0);
  return channels
    .filter(({ flow, totals }) => flow !== null && totals.length > 0)
    .sort((a, b) => risk(b) - risk(a))[0];
}
