/** A record judged by the bare calculation and the rules of the findings, as the ledger does it. */

import { defaultSettings } from "../../dist/src/conventions/settings.js";
import { findingsIn } from "../../dist/src/findings/find.js";
import { likelyReasons } from "../../dist/src/findings/reasons/likely.js";
import { worthTelling } from "../../dist/src/findings/reasons/retelling.js";
import { collector } from "../../dist/src/infusion/collected.js";
import { comeUpTo, follow } from "../../dist/src/infusion/course.js";
import { NOWHERE } from "../../dist/src/infusion/flow.js";
import { inOrder } from "../../dist/src/infusion/order.js";
import { NOTHING_KNOWN } from "../../dist/src/infusion/state.js";
import { ENDS, STARTS } from "./detection-times.mjs";
import { MINUTE } from "./story.mjs";

/** What readings and clears say: by these a fault is found. */
export const ABOUT_READINGS = ["reading-disagrees", "unrecorded-clear", "totals-lost"];
/**
 * All that is said of totals, bags and flows, and so would be said wrongly where nothing is wrong. Of the rest
 * `primary-not-clamped` and, where only devices read, `flow-unattended` are true of what is charted here; others
 * are about charting, weights and output. No levels of bags are read in these shifts.
 */
export const ABOUT_FLUID = [
  ...ABOUT_READINGS,
  "totals-at-risk",
  "no-reading-at-shift-end",
  "bag-ran-dry",
  "bag-overdrawn",
  "bag-unaccounted",
  "flow-without-bag",
  "end-unconfirmed",
  "pause-not-ended",
  "keep-open-running",
  "secondary-not-ended",
  "line-removed-running",
  "rate-implausible",
  "entry-without-effect",
];
/** The last readings are charted by then. */
const UNTIL = ENDS + 10 * MINUTE;

/** How sentences would say it; nobody reads them here. */
const words = { time: String, volume: String, rate: String, duration: String };

/**
 * The readings of a record as they were judged, what is found of some codes at the end of the shift, and the
 * likely reasons of one that disagrees, then and as they were when it was read. `grain` is the span that a charted
 * time stands for.
 */
export function judged(placed, grain) {
  const settings = { ...defaultSettings, chartingGrain: grain };
  const settingsAt = () => settings;
  const entries = inOrder(placed);
  const { sink, ...collected } = collector();
  const byTheEnd = entries.filter(({ entry }) => entry.at < ENDS);
  const atTheEnd = comeUpTo(followed(byTheEnd, NOTHING_KNOWN, settingsAt, sink), ENDS, sink);
  const state = comeUpTo(followed(entries.slice(byTheEnd.length), atTheEnd, settingsAt, sink), UNTIL, sink);
  const findings = (codes) => {
    const evidence = {
      from: entries[0].entry.at,
      until: UNTIL,
      settingsAt,
      collected,
      segments: [],
      entries: entries.map(reported),
      before: NOTHING_KNOWN,
      state,
      shiftEnds: [{ shift: "2026-03-09/day", start: STARTS, end: ENDS, state: atTheEnd }],
      shiftAt: () => "2026-03-09/day",
      charts: [],
      leftIn: null,
      signed: [],
      words,
    };
    return findingsIn(evidence, "all").filter(({ code }) => codes.includes(code));
  };
  return {
    findings,
    readings: collected.readings,
    reasons: (reading) => reasons(reading, entries, settingsAt, UNTIL),
    reasonsThen: (reading) => reasons(reading, entries, settingsAt, reading.at),
  };
}

/** Whether a person was asked about a reading when it was recorded. */
export function wasAsked({ outcome, comparison }) {
  return !comparison.agrees && (outcome === "disputed" || outcome === "waits");
}

function followed(entries, from, settingsAt, sink) {
  return entries.reduce((state, one) => follow(state, one, settingsAt, sink), from);
}

const reported = (placed) => ({ placed, recordedAt: placed.entry.at, by: "nurse" });

/** The likely reasons from the course since the mark that a reading was judged over, as they are known by an instant. */
function reasons(reading, all, settingsAt, until) {
  const entries = all.filter(({ entry }) => entry.at <= until);
  const [from, to] = [reading.over.from, reading.at];
  const before = entries.filter(({ entry }) => entry.at < from);
  const within = entries.filter(({ entry }) => from <= entry.at && entry.at < to);
  const { sink, ...collected } = collector();
  const opening = comeUpTo(followed(before, NOTHING_KNOWN, settingsAt, NOWHERE), from, NOWHERE);
  const state = comeUpTo(followed(within, opening, settingsAt, sink), to, sink);
  const since = entries.filter(({ entry }) => from <= entry.at && entry.at <= to).map(reported);
  const told = entries.filter(({ entry }) => from <= entry.at);
  const retelling = { from: opening, entries: worthTelling(told, reading, until), settingsAt };
  return likelyReasons({ reading, collected, entries: since, state, until, retelling, words });
}
