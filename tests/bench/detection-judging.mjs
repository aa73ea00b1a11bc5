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
import { ENDS } from "./detection-times.mjs";
import { MINUTE } from "./story.mjs";

/** What readings and clears say; the other rules judge neither, so the noise of readings is none of theirs. */
const CODES = ["reading-disagrees", "unrecorded-clear", "totals-lost"];
/** The last readings are charted by then. */
const UNTIL = ENDS + 10 * MINUTE;

/** How sentences would say it; nobody reads them here. */
const words = { time: String, volume: String, rate: String, duration: String };

/**
 * The readings of a record as they were judged, what is found of them at the end of the shift, and the likely
 * reasons of one that disagrees. `grain` is the span that a charted time stands for.
 */
export function judged(placed, grain) {
  const settings = { ...defaultSettings, chartingGrain: grain };
  const settingsAt = () => settings;
  const entries = inOrder(placed);
  const { sink, ...collected } = collector();
  const state = comeUpTo(followed(entries, NOTHING_KNOWN, settingsAt, sink), UNTIL, sink);
  const findings = () => {
    const evidence = {
      from: entries[0].entry.at,
      until: UNTIL,
      settingsAt,
      collected,
      entries: entries.map(reported),
      before: NOTHING_KNOWN,
      state,
      shiftEnds: [],
      words,
    };
    return findingsIn(evidence, "all").filter(({ code }) => CODES.includes(code));
  };
  return {
    findings,
    readings: collected.readings,
    reasons: (reading) => reasons(reading, entries, settingsAt),
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

/** The likely reasons from the course since the mark that a reading was judged over. */
function reasons(reading, entries, settingsAt) {
  const [from, to] = [reading.over.from, reading.at];
  const before = entries.filter(({ entry }) => entry.at < from);
  const within = entries.filter(({ entry }) => from <= entry.at && entry.at < to);
  const { sink, ...collected } = collector();
  const opening = comeUpTo(followed(before, NOTHING_KNOWN, settingsAt, NOWHERE), from, NOWHERE);
  const state = comeUpTo(followed(within, opening, settingsAt, sink), to, sink);
  const since = entries.filter(({ entry }) => from <= entry.at && entry.at <= to).map(reported);
  const told = entries.filter(({ entry }) => from <= entry.at);
  const retelling = { from: opening, entries: worthTelling(told, reading, UNTIL), settingsAt };
  return likelyReasons({ reading, collected, entries: since, state, until: UNTIL, retelling, words });
}
