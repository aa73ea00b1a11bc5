/** What a channel does, in words: its rate and fluid, or why nothing flows. */

import type { ChannelTotals } from "../api/shapes.js";
import type { Speech } from "../words/speech.js";

/** "75 mL/h of sodium chloride": what a channel does, in a sentence without its name. */
export function doing(
  { delivering, hold, flow, connected }: ChannelTotals,
  fluid: string,
  speech: Speech,
): string {
  const { words, rate, figure } = speech;
  if (flow === null) {
    const held = words.lines.holds[hold];
    if (!connected) return words.lines.disconnected;
    return held === "" ? words.lines.nothing : held;
  }
  const speed = flow.rate === null ? words.lines.rateUnknown : rate(flow.rate);
  const drops = flow.dripRate === undefined ? "" : ` (${words.lines.drops(figure(flow.dripRate))})`;
  const role = flow.role === "keep-open" ? words.roles["keep-open"] : words.lines.delivering[delivering];
  const added = delivering === "primary" && flow.role !== "keep-open" ? "" : `${role}: `;
  return `${added}${speed}${drops}, ${fluid}`;
}
