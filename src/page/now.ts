/**
 * What each channel does at the moment of the answer and what its running totals should show, the
 * largest volume that only the device knows first: that is what must be read off before handing over.
 */

import { type ChannelNow, fluidName, type RunningTotal, type Totals } from "./answers.js";
import { drawn, element } from "./elements.js";
import { tenths, together } from "./numbers.js";
import { clock, clockSeenFrom } from "./wall.js";
import { words } from "./words.js";

export interface Names {
  /** What each bag holds. */
  readonly bags: ReadonlyMap<string, string>;
}

/** The section about the channels; `running` is false when the shift shown is over. */
export function nowSection(answer: Totals, running: boolean, names: Names): HTMLElement {
  const channels = [...answer.channels].sort((a, b) => unwritten(b) - unwritten(a));
  return element(
    "section",
    { "aria-labelledby": "now-heading" },
    element("h2", { id: "now-heading" }, words.now.heading(clock(answer.at), running)),
    channels.length === 0
      ? element("p", { class: "empty" }, words.now.none)
      : element("ul", { class: "channels" }, ...channels.map((channel) => card(channel, answer.at, names))),
  );
}

/** The names of what the bags hold, from hangings and from flows. */
export function bagNames(bags: readonly { bag: string | null; fluid?: Parameters<typeof fluidName>[0] }[]) {
  const named = new Map<string, string>();
  for (const { bag, fluid } of bags) {
    const name = fluidName(fluid);
    if (bag !== null && name !== null) named.set(bag, name);
  }
  return named;
}

function unwritten(channel: ChannelNow): number {
  return channel.totals.reduce((sum, total) => sum + (total.atRisk ?? 0), 0);
}

function card(channel: ChannelNow, at: string, names: Names): HTMLElement {
  const line = channel.lineLabel ?? words.hours.noLine;
  const used = channel.totals.filter((total) => (total.expected ?? 1) > 0 || total.lastReading !== null);
  const shown = used.length > 0 ? used : channel.totals.slice(0, 1);
  return element(
    "li",
    { class: "channel" },
    element(
      "div",
      {},
      element("h3", {}, channel.channel, " ", element("span", { class: "soft" }, line)),
      element("p", {}, together(doing(channel, names))),
      element("p", { class: "soft" }, together(outlook(channel, at))),
    ),
    element("div", {}, ...shown.map((total) => totalLine(total, at))),
  );
}

function doing({ delivering, flow }: ChannelNow, names: Names): string {
  if (delivering === "nothing" || flow === null) return words.delivering.nothing;
  const fluid = (flow.bag === null ? null : names.bags.get(flow.bag)) ?? words.now.unidentified;
  const drops = flow.dripRate == null ? "" : ` (${words.now.drops(flow.dripRate)})`;
  return `${words.delivering[delivering]}${words.now.flow(flow.rate, fluid)}${drops}`;
}

function outlook({ flow }: ChannelNow, at: string): string {
  if (flow === null) return "";
  const parts = [
    flow.left === null ? null : words.now.left(flow.left),
    flow.emptyAt === null ? null : words.now.empty(clockSeenFrom(flow.emptyAt, at)),
    flow.endsAt === null || flow.endsAt === flow.emptyAt
      ? null
      : words.now.ends(clockSeenFrom(flow.endsAt, at)),
  ].filter((part) => part !== null);
  const sentence = parts.join(", ");
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}

function totalLine(total: RunningTotal, at: string): HTMLElement {
  const expected = total.expected === null ? words.now.unknown : tenths(total.expected);
  const atRisk = total.atRisk ?? 0;
  const since = total.since === null ? null : clockSeenFrom(total.since, at);
  const state = words.now.atRisk(atRisk, since);
  const last = total.lastReading === null ? words.now.never : words.now.lastReading(total.lastReading);
  return element(
    "div",
    { class: "running-total" },
    element(
      "p",
      {},
      words.totals[total.total],
      " ",
      element(
        "span",
        { class: "amount" },
        element("strong", {}, expected),
        total.expected === null ? "" : " mL",
      ),
    ),
    element(
      "div",
      {},
      gauge(total),
      atRisk > 0
        ? element("p", {}, together(state), " ", element("span", { class: "soft" }, together(last)))
        : element("p", { class: "soft" }, words.now.allRead),
    ),
  );
}

/** The total as a bar: filled as far as it is written down, an outline for what only the device knows. */
function gauge({ expected, atRisk }: RunningTotal): SVGElement | null {
  if (expected === null || expected <= 0) return null;
  const written = Math.min(100, Math.max(0, (100 * (expected - (atRisk ?? 0))) / expected));
  return drawn(
    "svg",
    { class: "gauge", "aria-hidden": "true", height: 12, width: "100%" },
    drawn("rect", { class: "gauge-whole", x: 0.75, y: 0.75, width: "99%", height: 10.5 }),
    drawn("rect", { class: "gauge-written", x: 0.75, y: 0.75, width: `${written * 0.99}%`, height: 10.5 }),
  );
}
