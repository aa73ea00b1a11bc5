/** Slips of the eye and the hand in the digits of a display: what is charted instead. */

/** @param {import("./detection-random.mjs").Random} random @param {string} digits without the point */
export function slip(random, digits) {
  return random.oneOf([swapped, swapped, taken, taken, taken, oneLess, oneMore])(random, digits);
}

/** Two neighbours change places. */
function swapped(random, digits) {
  const place = random.whole(0, digits.length - 2);
  if (digits.length < 2) return digits;
  return digits.slice(0, place) + digits[place + 1] + digits[place] + digits.slice(place + 2);
}

/** Digits that look alike on a display of seven segments, and any other one now and then. */
const ALIKE = { 0: "8", 1: "7", 2: "7", 3: "89", 4: "9", 5: "69", 6: "58", 7: "1", 8: "063", 9: "834" };
function taken(random, digits) {
  const place = random.whole(0, digits.length - 1);
  const other = random.oneOf(random.happens(0.6) ? ALIKE[digits[place]] : "0123456789");
  return digits.slice(0, place) + other + digits.slice(place + 1);
}

function oneLess(random, digits) {
  const place = random.whole(0, digits.length - 1);
  return digits.slice(0, place) + digits.slice(place + 1) || "0";
}

function oneMore(random, digits) {
  const place = random.whole(0, digits.length - 1);
  return digits.slice(0, place + 1) + digits.slice(place);
}
