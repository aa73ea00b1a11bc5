/**
 * How much of what goes wrong in a record is found: thousands of invented shifts, each charted with the noise
 * of devices and clocks and with one fault at most, judged at the end of the shift. A reading that disagrees
 * was looked at again and stands as it is. The figures are told as they are, beside what is aimed at.
 */

import { FAULTS } from "./detection-faults.mjs";
import { judged, wasAsked } from "./detection-judging.mjs";
import { outcomeOf } from "./detection-outcome.mjs";
import { Random } from "./detection-random.mjs";
import { record } from "./detection-record.mjs";
import { shift } from "./detection-story.mjs";
import { MINUTE } from "./story.mjs";

/** In tolerances. */
const SIZES = [
  { least: 1, below: 2 },
  { least: 2, below: 5 },
  { least: 5, below: Number.POSITIVE_INFINITY },
];

/** @param {{ quick: boolean }} asked @returns {import("./table.mjs").Result[]} */
export function detection({ quick }) {
  return [1, 5].flatMap((minutes) => {
    const grain = minutes * MINUTE;
    const none = faultless(grain, quick ? 200 : 1_000);
    const cases = Object.keys(FAULTS).flatMap((kind) => faulty(kind, grain, quick ? 30 : 150));
    return [
      ...aims(minutes, cases, none),
      ...[...Object.keys(FAULTS), "all together"].map((kind) => row(kind, cases)),
    ];
  });
}

function aims(minutes, cases, none) {
  const above = cases.filter(({ size }) => size >= 2);
  return [
    {
      what: `detection, times charted to ${minutes} min: faults above 2 tolerances found`,
      ...aimed(share(above, isFound), "≥", 0.95),
    },
    {
      what: "  of those asked about, true reason first or in a named tie",
      ...aimed(share(above.filter(isNamed), isFirst), "≥", 0.8),
    },
    { what: `  of ${none.count} faultless shifts, with a finding`, ...aimed(none.found, "≤", 0.03) },
    { what: "  and with a reading asked about when charted", ...told(perCent(none.asked)) },
    {
      what: "  by effect 1–2, 2–5, > 5 tolerances:",
      ...told("found of so many | reason first or tied (tied)"),
    },
  ];
}

function row(kind, cases) {
  const own = cases.filter((one) => kind === "all together" || one.kind === kind);
  const sizes = SIZES.map(({ least, below }) => own.filter(({ size }) => least <= size && size < below));
  const found = sizes.map((some) =>
    some.length === 0 ? "–" : `${perCent(share(some, isFound))} of ${some.length}`,
  );
  const first = sizes.map((some) => {
    const named = some.filter(isNamed);
    return named.length === 0 ? "–" : `${perCent(share(named, isFirst))} (${perCent(share(named, isTied))})`;
  });
  return { what: `    ${kind}`, ...told(`${found.join(", ")} | ${first.join(", ")}`) };
}

const isFound = ({ found }) => found;
const isNamed = ({ named }) => named !== null;
const isTied = ({ named }) => named === "tied";
const isFirst = (one) => one.named === "first" || isTied(one);

const share = (all, is) => (all.length === 0 ? 0 : all.filter(is).length / all.length);
const perCent = (value) => `${(100 * value).toFixed(value > 0 && value < 0.1 ? 1 : 0)} %`;
const told = (measured) => ({ measured, bound: "", holds: null });

function aimed(value, sign, aim) {
  const holds = sign === "≥" ? value >= aim : value <= aim;
  return { measured: `${(100 * value).toFixed(1)} %`, bound: `${sign} ${100 * aim} %`, holds };
}

/** The shares of shifts without a fault in which something is found, and in which something was asked. */
function faultless(grain, count) {
  const random = new Random(`faultless, to ${grain} ms`);
  const shifts = Array.from({ length: count }, () => judged(record(shift(random), { grain }), grain));
  return {
    count,
    found: share(shifts, ({ findings }) => findings().length > 0),
    asked: share(shifts, ({ readings }) => readings.some(wasAsked)),
  };
}

/** What became of a fault of a kind in so many shifts; those without a place for it, or too small, are left out. */
function faulty(kind, grain, count) {
  const { needs, reason, plant } = FAULTS[kind];
  const random = new Random(`${kind}, to ${grain} ms`);
  return Array.from({ length: count }, () => {
    const channels = shift(random, needs);
    const fault = plant(random, channels);
    const outcome = fault === null ? null : outcomeOf(channels, fault, reason, grain);
    return outcome === null ? [] : [{ kind, ...outcome }];
  }).flat();
}
