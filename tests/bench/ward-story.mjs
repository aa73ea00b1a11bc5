/**
 * An invented stay on a ward, told by the shift: a maintenance pump and one for secondaries on two lines, a rate
 * changed three times a shift, an antibiotic every eight hours, drinks and urine, totals read every four hours and
 * cleared at the end of the shift. Some fifty entries a shift, without an error.
 */

import { HOUR, MINUTE } from "./story.mjs";

const SHIFT = 12 * HOUR;
const iso = (at) => new Date(at).toISOString();
const SALINE = { name: "Sodium chloride 0.9 %", category: "iv-fluid" };
const ANTIBIOTIC = { name: "Ceftriaxone", category: "iv-medication" };

/**
 * The entries of a stay, as they are posted: each hour's at its end.
 *
 * @param {{ begins: number, ends: number }} asked instants; it begins with a shift
 * @returns {{ recordedAt: number, entries: object[] }[]}
 */
export function* wardStory({ begins, ends }) {
  yield { recordedAt: begins + MINUTE, entries: opening(begins) };
  for (let start = begins; start < ends; start += SHIFT) {
    const rates = [80, 90, 75].map((rate, i) => ({ rate, at: start + i * 4 * HOUR + 20 * MINUTE }));
    let before = 75;
    let counted = 0;
    let given = 0;
    let upTo = start;
    const come = (at) => {
      counted += (before * (at - upTo)) / HOUR;
      upTo = at;
    };
    for (let hour = start; hour < Math.min(start + SHIFT, ends); hour += HOUR) {
      const number = (hour - begins) / HOUR;
      const entries = [amount("output-measured", "urine", hour + 40 * MINUTE, 50 + (number % 7) * 10)];
      if (number % 2 === 1) entries.push(amount("intake-measured", "oral", hour + 30 * MINUTE, 150));
      if (number % 10 === 9) entries.push(hung("main", `saline-${number}`, hour + 5 * MINUTE, 1_000, SALINE));
      for (const { rate, at } of rates.filter(({ at }) => hour <= at && at < hour + HOUR)) {
        come(at);
        before = rate;
        entries.push({ kind: "rate-changed", at: iso(at), channel: "main", rate });
      }
      if (number % 8 === 2) {
        entries.push(...secondary(`antibiotic-${number}`, hour + 10 * MINUTE));
        given += 100;
      }
      if (number % 4 === 3) {
        const at = hour + HOUR;
        come(at);
        const isLast = at === start + SHIFT;
        entries.push(
          ...read("main", "primary", counted, at, isLast),
          ...read("second", "secondary", given, at, isLast),
        );
      }
      yield { recordedAt: hour + HOUR, entries };
    }
  }
}

function opening(at) {
  const channel = (key, line) => [
    { kind: "line-placed", at: iso(at), line, label: `The ${line}`, route: "intravenous" },
    { kind: "channel-connected", at: iso(at), channel: key, line, type: "pump" },
  ];
  return [
    ...channel("main", "forearm"),
    ...channel("second", "hand"),
    hung("main", "saline", at, 1_000, SALINE),
    { kind: "flow-started", at: iso(at), channel: "main", rate: 75, volumeToInfuse: "none" },
  ];
}

function hung(channel, bag, at, volume, fluid, more = {}) {
  return { kind: "bag-hung", at: iso(at), channel, bag, volume, fluid, ...more };
}

function secondary(bag, at) {
  return [
    hung("second", bag, at, 100, ANTIBIOTIC, { role: "secondary" }),
    { kind: "secondary-started", at: iso(at), channel: "second", rate: 200, volumeToInfuse: 100 },
    { kind: "secondary-ended", at: iso(at + 30 * MINUTE), channel: "second" },
  ];
}

function amount(kind, category, at, volume) {
  return { kind, at: iso(at), category, volume };
}

function read(channel, total, volume, at, isLast) {
  const reading = { kind: "total-read", at: iso(at), channel, total, volume: Math.round(volume * 10) / 10 };
  return isLast ? [reading, { kind: "totals-reset", at: iso(at), channel }] : [reading];
}
