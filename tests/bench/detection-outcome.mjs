/**
 * What became of a fault in a record: how large it was, whether it was found, whether its reason was named.
 *
 * Its size is its effect on an increment in tolerances of that reading, the largest of the readings it
 * touches. It is found by a finding about readings on the right channel, over a span that meets the fault's;
 * where the reading is the fault, also by a later reading that sets it aside. A clear nobody charted is found
 * by the total it lost, too.
 */

import { judged } from "./detection-judging.mjs";
import { record } from "./detection-record.mjs";
import { MINUTE } from "./story.mjs";

/** How far a reading may be charted from when it was taken. */
const MOST_OFF = 3 * MINUTE;

/**
 * @typedef {{ size: number, found: boolean, named: null | "first" | "tied" | "not first" }} Outcome `named` is
 *   null where nothing asks about a reading.
 */

/** @returns {Outcome | null} null for what lies within the tolerance. */
export function outcomeOf(channels, fault, reason, grain) {
  const right = judged(record(channels, { grain }), grain);
  const wrong = judged(record(channels, { grain, ...fault }), grain);
  const size = sizeOf(right, wrong, fault);
  if (size < 1) return null;
  const findings = wrong
    .findings()
    .filter(({ code }) => code !== "totals-lost" || reason === "clear-missing")
    .filter((finding) => meets(finding, fault, grain));
  const readings = wrong.readings.filter(
    ({ entry }) => findings.some(({ subject }) => subject === entry) || isSetAside(entry, wrong, fault),
  );
  const found = findings.length + readings.length > 0;
  return { size, found, named: readings.length === 0 ? null : placeOf(reason, wrong.reasons(readings[0])) };
}

/** The largest effect on what was read beyond what was computed, in tolerances. */
function sizeOf(right, wrong, { channel }) {
  const excess = ({ comparison: { increment, computed } }) => increment - computed;
  const before = new Map(right.readings.map((reading) => [reading.entry, excess(reading)]));
  const effects = wrong.readings
    .filter((reading) => reading.channel === channel && before.has(reading.entry))
    .map((reading) => {
      const effect = Number(excess(reading) - before.get(reading.entry));
      return Math.abs(effect) / Number(reading.comparison.tolerance);
    });
  return Math.max(0, ...effects);
}

function meets({ channel, start, end }, fault, grain) {
  const slack = MOST_OFF + grain;
  return channel === fault.channel && start <= fault.end + slack && fault.start - slack <= end;
}

/** Whether a reading is the wrong one, and a later one showed it to be. */
function isSetAside(entry, { readings }, { wrong }) {
  return wrong?.(entry) === true && readings.some(({ setsAside }) => setsAside === entry);
}

function placeOf(reason, ranked) {
  const mine = ranked.find((one) => one.place === 1 && one.reason.kind === reason);
  if (mine === undefined) return "not first";
  return mine.tied ? "tied" : "first";
}
