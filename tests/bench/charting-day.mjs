/**
 * An invented day as the ledger has it: infusions by hour, what was drunk and passed, what was measured, each as
 * the contributions that the reconciliation is given. Volumes in whole microlitres.
 */

import { HOUR, MINUTE } from "./story.mjs";

export const MIDNIGHT = 1_772_582_400_000;
export const HOURS = 24;
const ML = 1_000;

const DRINKS = [
  ["tea", 180],
  ["coffee", 150],
  ["water", 200],
  ["juice", 120],
  ["soup", 240],
  ["milk", 100],
  ["gelatin", 90],
];

/** @param {import("./detection-random.mjs").Random} random The day's contributions, by hours. */
export function day(random) {
  return [
    ...maintenance(random),
    ...syringe(random),
    ...nutrition(random),
    ...secondaries(random),
    ...keptOpen(random),
    ...drunk(random),
    ...passed(random),
  ];
}

/** A day with the keep-open flow above what an interval may differ by, or below it. */
function* keptOpen(random) {
  const rate = random.whole(4, 9) * ML;
  for (let hour = 0; hour < HOURS; hour++) {
    yield delivered(hour, rate, {
      channel: "pump-3",
      role: "keep-open",
      category: "iv-flush",
      bag: "keep",
      line: "port",
      label: 250 * ML,
      carrier: true,
    });
  }
}

function* maintenance(random) {
  let rate = random.whole(40, 125) * ML;
  let [bag, left, total] = [1, random.whole(200, 1_000) * ML, random.whole(0, 800) * ML];
  for (let hour = 0; hour < HOURS; hour++) {
    if (random.happens(0.15)) rate = random.whole(40, 150) * ML;
    const volume = Math.round((rate * (random.happens(0.15) ? random.whole(20, 59) : 60)) / 60);
    const first = Math.min(volume, left);
    const of = (key) => ({
      channel: "pump-1",
      role: "primary",
      category: "iv-fluid",
      bag: `bag-${key}`,
      line: "forearm",
      label: 1_000 * ML,
    });
    total += first;
    if (first > 0) yield delivered(hour, first, { ...of(bag), reading: total });
    left -= first;
    if (left > 0) continue;
    bag++;
    total += volume - first;
    if (volume > first) yield delivered(hour, volume - first, { ...of(bag), reading: total });
    left = 1_000 * ML - (volume - first);
  }
}

function* syringe(random) {
  let rate = random.whole(15, 120) * 100;
  let total = random.whole(0, 30) * ML;
  for (let hour = 0; hour < HOURS; hour++) {
    if (random.happens(0.2)) rate = random.whole(15, 120) * 100;
    total += rate;
    yield delivered(hour, rate, {
      channel: "pump-2",
      role: "primary",
      category: "iv-medication",
      bag: `syringe-${Math.floor(hour / 6)}`,
      line: "port",
      label: 50 * ML,
      reading: total,
    });
  }
}

function* nutrition(random) {
  const rate = random.whole(25, 80) * ML;
  const [from, to] = [random.whole(0, 6), random.whole(16, 24)];
  let total = 0;
  for (let hour = from; hour < to; hour++) {
    if (random.happens(0.1)) continue;
    const volume = Math.round((rate * random.whole(50, 60)) / 60);
    total += volume;
    yield delivered(hour, volume, {
      channel: "feeding",
      role: "primary",
      category: "enteral-feed",
      bag: `feed-${Math.floor(hour / 8)}`,
      line: "tube",
      label: 500 * ML,
      reading: total,
    });
    if (hour % 4 === 0)
      yield amount(random, hour, random.whole(3, 6) * 10 * ML, {
        category: "enteral-water",
        line: "tube",
        item: "water flush",
      });
  }
}

function* secondaries(random) {
  for (const hour of [random.whole(1, 6), random.whole(8, 13), random.whole(15, 21)]) {
    const volume = random.oneOf([50, 100, 100, 200, 250]) * ML;
    const more = {
      channel: "pump-1",
      role: "secondary",
      category: "iv-medication",
      bag: `piggyback-${hour}`,
      line: "forearm",
      label: volume,
    };
    const delivering = volume - random.whole(0, 3) * 5 * ML;
    yield delivered(hour, delivering, { ...more, entries: [`secondary-${hour}`] });
    yield amount(random, hour, random.oneOf([15, 20, 25, 30]) * ML, {
      category: "iv-flush",
      line: "forearm",
      item: "flush",
      carrier: true,
    });
    if (random.happens(0.5))
      yield amount(random, hour, random.oneOf([12, 16, 20]) * ML, {
        category: "iv-push",
        line: "port",
        item: "push",
      });
  }
  if (random.happens(0.5)) {
    const hour = random.whole(3, 20);
    const volume = random.whole(240, 320) * ML;
    const part = Math.round(volume * random.between(0.3, 0.7));
    const blood = {
      channel: "pump-4",
      role: "primary",
      category: "blood-product",
      bag: "red cells",
      line: "port",
      label: 300 * ML,
      entries: ["blood"],
    };
    yield delivered(hour, part, blood);
    yield delivered(hour + 1, volume - part, blood);
  }
}

function* drunk(random) {
  for (let hour = 6; hour < 22; hour++) {
    for (let times = random.whole(0, 2); times > 0; times--) {
      const [item, usual] = random.oneOf(DRINKS);
      yield amount(random, hour, (usual + random.whole(-4, 4) * 10) * ML, { category: "oral", item });
    }
    if (!random.happens(0.2)) continue;
    const whole = random.whole(2, 8) * 30 * ML;
    yield amount(random, hour, whole / 2, { category: "oral", item: "ice chips", whole });
  }
}

function* passed(random) {
  let level = random.whole(0, 80) * ML;
  for (let hour = 0; hour < HOURS; hour++) {
    const urine = random.whole(25, 140) * ML;
    const instilled = random.happens(0.15) ? random.whole(5, 30) * 10 * ML : 0;
    yield amount(random, hour, urine, {
      direction: "output",
      category: "urine",
      site: "bladder",
      ...(instilled > 0 ? { whole: urine + instilled } : {}),
    });
    if (hour % 4 === 3) {
      const more = random.whole(12, 90) * ML;
      level += more;
      yield amount(random, hour, more, {
        direction: "output",
        category: "chest-drain",
        site: "left chest",
        reading: level,
      });
    }
    if (hour % 6 === 2) {
      const returned = random.happens(0.5) ? random.whole(3, 15) * 10 * ML : 0;
      const kept = random.whole(4, 25) * 10 * ML;
      yield amount(random, hour, kept, {
        direction: "output",
        category: "gastric",
        site: "tube",
        ...(returned > 0 ? { whole: kept + returned } : {}),
      });
    }
    if (random.happens(0.06))
      yield amount(random, hour, random.whole(3, 40) * 10 * ML, { direction: "output", category: "emesis" });
    if (random.happens(0.08))
      yield amount(random, hour, random.whole(8, 35) * 10 * ML, { direction: "output", category: "stool" });
    if (hour % 8 === 5)
      yield amount(random, hour, random.whole(15, 120) * ML, {
        direction: "output",
        category: "drain",
        site: "abdomen",
      });
  }
}

function delivered(hour, volume, more) {
  const start = MIDNIGHT + hour * HOUR;
  return {
    entries: [`${more.channel}-${more.bag}`],
    direction: "intake",
    item: null,
    at: start + HOUR,
    start,
    end: start + HOUR,
    volume,
    ...more,
  };
}

let amounts = 0;

/** Charted some time in the hour, often at its end. */
function amount(random, hour, volume, more) {
  const start = MIDNIGHT + hour * HOUR;
  const at = random.happens(0.3) ? start + HOUR : start + random.whole(1, 59) * MINUTE;
  const entries = [`amount-${++amounts}`];
  return {
    entries,
    direction: "intake",
    line: null,
    item: null,
    at,
    start,
    end: start + HOUR,
    volume,
    ...more,
  };
}
