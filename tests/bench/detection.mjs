/**
 * How much of what goes wrong in a record is found: thousands of invented shifts, each charted with the noise
 * of devices and clocks and with one fault at most. A reading that disagrees was looked at again and stands as
 * it is. Likely reasons are told twice: to who is asked at the bedside, when no later reading is known, and
 * beside the finding at the end of the shift. The figures are told as they are, beside what is aimed at.
 */

import { FAULTS } from "./detection-faults.mjs";
import { ABOUT_FLUID, ABOUT_READINGS, judged, wasAsked } from "./detection-judging.mjs";
import { outcomeOf } from "./detection-outcome.mjs";
import { Random } from "./detection-random.mjs";
import { record } from "./detection-record.mjs";
import { shift } from "./detection-story.mjs";
import { faultless, faulty, HEADING } from "./detection-told.mjs";
import { MINUTE } from "./story.mjs";

/** Who reads the totals, and to what times are charted. A device's own reports are to the second. */
const WAYS = [
  { what: "times charted to 1 min", readBy: "person", grain: MINUTE },
  { what: "times charted to 5 min", readBy: "person", grain: 5 * MINUTE },
  { what: "read by devices, the rest charted to 1 min", readBy: "device", grain: MINUTE },
];

/** @param {{ quick: boolean }} asked @returns {import("./table.mjs").Result[]} */
export function detection({ quick }) {
  return WAYS.flatMap((way) => {
    const kinds = Object.keys(FAULTS).filter((kind) => way.readBy === "person" || !FAULTS[kind].misread);
    const cases = kinds.flatMap((kind) => outcomes(kind, way, quick ? 30 : 150));
    const none = without(way, quick ? 200 : 4_000);
    return [
      { ...HEADING, what: `detection, ${way.what}: ${HEADING.what}` },
      ...faulty(cases, [...kinds, "all together"]),
      ...faultless(none),
    ];
  });
}

function seed(what, { grain, readBy }) {
  return `${what}, to ${grain} ms${readBy === "person" ? "" : `, read by a ${readBy}`}`;
}

/** What is found and asked in each of so many shifts without a fault. */
function without({ grain, readBy }, count) {
  const random = new Random(seed("faultless", { grain, readBy }));
  return Array.from({ length: count }, () => {
    const { findings, readings } = judged(record(shift(random), { grain, readBy }), grain);
    const all = findings(ABOUT_FLUID);
    return {
      aboutReadings: all.some(({ code }) => ABOUT_READINGS.includes(code)),
      toLookAt: all.some(({ severity }) => severity !== "note"),
      codes: [...new Set(all.map(({ code }) => code))],
      asked: readBy === "person" && readings.some(wasAsked),
    };
  });
}

/** What became of a fault of a kind in so many shifts; those without a place for it, or too small, are left out. */
function outcomes(kind, { grain, readBy }, count) {
  const { needs, reason, plant } = FAULTS[kind];
  const random = new Random(seed(kind, { grain, readBy }));
  return Array.from({ length: count }, () => {
    const channels = shift(random, needs);
    const fault = plant(random, channels);
    const outcome = fault === null ? null : outcomeOf(channels, fault, reason, { grain, readBy });
    return outcome === null ? [] : [{ kind, ...outcome }];
  }).flat();
}
