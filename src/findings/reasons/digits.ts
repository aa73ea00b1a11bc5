/**
 * The reading has a digit wrong: two neighbours swapped, one misread, left out or doubled, or the decimal
 * point in another place. The digits themselves are judged, not what the difference is divisible by.
 */

import { stepOf } from "../../conventions/settings.js";
import type { Microlitres } from "../../infusion/entry.js";
import { minus, shownAs, volumeOf } from "../../infusion/quantity.js";
import { readingAs } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { likeliest, type Supposed } from "./supposed.js";

/** How the slips of the hand share out; an estimate. */
const SWAPPED = 0.3;
const MISREAD = 0.4;
const LEFT_OUT = 0.1;
const ONE_MORE = 0.1;
const POINT = 0.1;
/** One digit too many is mostly the one before it once more. */
const DOUBLED = 0.9;

export function digits(d: Disagreeing): Reason[] {
  return likeliest("digits", d, slips(d));
}

interface Slip {
  readonly digits: string;
  readonly share: number;
  readonly how: string;
}

function* slips(d: Disagreeing): Iterable<Supposed> {
  const { value, over } = d.reading;
  const charted = shownAs(value, stepOf(1));
  if (charted < 0) return;
  const { shown, decimals } = asShown(charted);
  // No display shows a nought in front, but for the one before the point.
  const right = [...otherDigits(shown), ...otherLengths(shown)]
    .filter((slip) => !slip.digits.startsWith("0") || slip.digits.length <= decimals + 1)
    .map((slip) => ({ ...slip, volume: Number(slip.digits) * 10 ** (3 - decimals) }));
  const tens: (Omit<Slip, "digits"> & { volume: Microlitres })[] = [charted * 10, charted / 10].map(
    (volume) => ({ volume, share: POINT / 2, how: "the decimal point in another place" }),
  );
  for (const { volume, share, how } of [...right, ...tens]) {
    // A total that shows nothing has no digit to take for another.
    if (volume === charted || volume <= 0 || !Number.isSafeInteger(volume)) continue;
    const meant = volumeOf(volume);
    const tell = () => ({
      sentence: `${d.words.volume(value)} may have been ${d.words.volume(meant)}, with ${how}.`,
      proposals: [readingAs(d, { volume }, `It was read or typed with ${how}.`)],
    });
    yield { increment: minus(meant, over.base), would: d.reading.comparison.computed, share, tell };
  }
}

/** The digits as a display shows them, without the point, and how many stand behind it. */
function asShown(microlitres: Microlitres): { shown: string; decimals: number } {
  let decimals = 3;
  let rest = microlitres;
  for (; decimals > 0 && rest % 10 === 0; decimals--) rest /= 10;
  return { shown: String(rest), decimals };
}

/** Two neighbours swapped, or one digit taken for another: those that look alike more often. */
function otherDigits(shown: string): Slip[] {
  const places = [...shown].map((digit, place) => ({ digit, place }));
  const swaps = places.slice(1).map(({ digit, place }) => ({
    digits: shown.slice(0, place - 1) + digit + shown[place - 1] + shown.slice(place + 1),
    share: SWAPPED / (shown.length - 1),
    how: "two digits swapped",
  }));
  const misread = places.flatMap(({ digit, place }) =>
    [..."0123456789"]
      .filter((other) => other !== digit)
      .map((other) => ({
        digits: shown.slice(0, place) + other + shown.slice(place + 1),
        share: (MISREAD / shown.length) * takenFor(other, digit),
        how: `${a(other)} taken for ${a(digit)}`,
      })),
  );
  return [...swaps, ...misread];
}

/** One digit too few, or one too many. */
function otherLengths(shown: string): Slip[] {
  const gaps = Array.from({ length: shown.length + 1 }, (_, place) => place);
  const leftOut = gaps.flatMap((place) =>
    [..."0123456789"].map((digit) => ({
      digits: shown.slice(0, place) + digit + shown.slice(place),
      share: LEFT_OUT / (10 * gaps.length),
      how: `${a(digit)} left out`,
    })),
  );
  const twice = gaps.slice(1).map((end) => ({
    digits: shown.slice(0, end - 1) + shown.slice(end) || "0",
    share: (ONE_MORE * (shown[end - 1] === shown[end - 2] ? DOUBLED : 1 - DOUBLED)) / shown.length,
    how: `${a(shown[end - 1]!)} too many`,
  }));
  return [...leftOut, ...twice];
}

/** Digits that look alike on a display of seven segments, or written by hand. */
const ALIKE = ["08", "06", "17", "14", "27", "35", "38", "39", "49", "56", "58", "59", "68", "69", "89"];
const OFTEN_ALIKE = 0.6;

function takenFor(right: string, read: string): number {
  const like = ALIKE.filter((pair) => pair.includes(right));
  const alike = like.some((pair) => pair.includes(read));
  return (1 - OFTEN_ALIKE) / 9 + (alike ? OFTEN_ALIKE / like.length : 0);
}

function a(digit: string): string {
  return digit === "8" ? "an 8" : `a ${digit}`;
}
