/**
 * What became of a fault in a record: how large it was, whether it was found, whether its reason was named.
 *
 * Its size is its effect on an increment in tolerances of that reading, the largest of the readings it
 * touches. It is found by a finding about readings on the right channel, over a span that meets the fault's. A
 * clear nobody charted is found by the total it lost, too. A reading that is the fault itself may be set aside
 * by a later one, and then no finding tells of it any more; that is counted apart.
 */

import { ABOUT_READINGS, judged, wasAsked } from "./detection-judging.mjs";
import { record } from "./detection-record.mjs";
import { MINUTE } from "./story.mjs";

/** How far a reading may be charted from when it was taken. */
const MOST_OFF = 3 * MINUTE;

/**
 * @typedef {{ first: boolean, tie: number }} Named whether the true reason is in the first place, and how many
 *   share that.
 * @typedef {{ size: number, found: null | "finding" | "set aside", atBedside: Named | null, atEnd: Named | null }} Outcome
 *   `atBedside` is what was named when a person was asked about the reading, with nothing known of later ones; `atEnd`
 *   what is named with the finding at the end of the shift. Null where nobody asks.
 */

/**
 * @param {{ grain: number, readBy: "person" | "device" }} how
 * @returns {Outcome | null} null for what lies within the tolerance
 */
export function outcomeOf(channels, fault, reason, how) {
  const right = judged(record(channels, how), how.grain);
  const wrong = judged(record(channels, { ...how, ...fault }), how.grain);
  const size = sizeOf(right, wrong, fault);
  if (size < 1) return null;
  const findings = wrong
    .findings(ABOUT_READINGS)
    .filter(({ code }) => code !== "totals-lost" || reason === "clear-missing")
    .filter((finding) => meets(finding, fault, how.grain));
  const asked = wrong.readings.find(
    (reading) => wasAsked(reading) && meets(spanOf(reading), fault, how.grain),
  );
  const open = wrong.readings.find(({ entry }) => findings.some(({ subject }) => subject === entry));
  const aside = wrong.readings.some(({ entry }) => isSetAside(entry, wrong, fault));
  return {
    size,
    found: findings.length > 0 ? "finding" : aside ? "set aside" : null,
    atBedside:
      how.readBy === "device" || asked === undefined ? null : named(reason, wrong.reasonsThen(asked)),
    atEnd: open === undefined ? null : named(reason, wrong.reasons(open)),
  };
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

const spanOf = ({ channel, over, at }) => ({ channel, start: over.from, end: at });

function meets({ channel, start, end }, fault, grain) {
  const slack = MOST_OFF + grain;
  return channel === fault.channel && start <= fault.end + slack && fault.start - slack <= end;
}

/** Whether a reading is the wrong one, and a later one showed it to be. */
function isSetAside(entry, { readings }, { wrong }) {
  return wrong?.(entry) === true && readings.some(({ setsAside }) => setsAside === entry);
}

function named(reason, ranked) {
  const first = ranked.filter(({ place }) => place === 1);
  return { first: first.some((one) => one.reason.kind === reason), tie: first.length };
}
