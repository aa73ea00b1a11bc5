/**
 * A busy shift computed by the bare calculation: 12 hours, six channels, some 300 entries, from entries
 * as they were recorded to rows by the hour. Beside it, as a measure of the machine, a plain loop of as
 * many multiplications of BigInts as the shift needs.
 */

import { defaultSettings } from "../../dist/src/conventions/settings.js";
import { amountOf } from "../../dist/src/infusion/amount.js";
import { apportioned } from "../../dist/src/infusion/apportion.js";
import { collector } from "../../dist/src/infusion/collected.js";
import { comeUpTo, followAll } from "../../dist/src/infusion/course.js";
import { NOWHERE } from "../../dist/src/infusion/flow.js";
import { inOrder } from "../../dist/src/infusion/order.js";
import { NOTHING_KNOWN } from "../../dist/src/infusion/state.js";
import { volumeRows } from "../../dist/src/infusion/volumes.js";
import { decodeEntry } from "../../dist/src/wire/decode.js";
import { inTurns, median } from "./measuring.mjs";
import { HOUR, story } from "./story.mjs";

const HOURS = 12;
const MOST_MILLISECONDS = 2;

const settingsAt = () => defaultSettings;

/** @param {{ quick: boolean }} asked */
export async function core({ quick }) {
  const hours = story({ hours: HOURS, perHour: 25 });
  const told = hours.flatMap(({ entries }) => entries);
  const start = hours[0].start;
  const opening = followAll(NOTHING_KNOWN, inOrder(placed(hours[0].opening)), settingsAt, NOWHERE);
  const entries = placed(told);
  const intervals = hours.map(({ start }) => ({ start, end: start + HOUR }));
  const shift = () => shiftOf(opening, entries, intervals);
  const products = productsIn(shift(), intervals);
  const times = await inTurns(
    { shift, products: () => multiply(products, start) },
    { rounds: quick ? 200 : 1_000, warmUp: 100 },
  );
  const [taken, baseline] = [median(times.shift), median(times.products)];
  const measured = `${taken.toFixed(2)} ms (${products} products alone ${baseline.toFixed(3)} ms)`;
  return [
    {
      what: `core: a 12 h shift of ${entries.length} entries, by hour and line`,
      measured,
      bound: `< ${MOST_MILLISECONDS} ms`,
      holds: taken < MOST_MILLISECONDS,
    },
  ];
}

function placed(entries) {
  return entries.map((entry, i) => ({
    id: `entry-${i}`,
    sequence: i + 1,
    source: "person",
    entry: decodeEntry(entry),
  }));
}

function shiftOf(opening, entries, intervals) {
  const [start, end] = [intervals[0].start, intervals.at(-1).end];
  const { sink, ...collected } = collector();
  const amounts = [];
  const told = inOrder(entries);
  for (const one of told) {
    if (one.entry.kind === "intake-measured") amounts.push(amountOf(one, defaultSettings));
  }
  comeUpTo(followAll(opening, told, settingsAt, sink), end, sink);
  const asked = {
    intervals,
    anchors: [start],
    until: end,
    admittedAt: start,
    stepOf: () => defaultSettings.precision,
    per: "line",
  };
  const rows = volumeRows({ ...apportioned(collected), amounts }, asked);
  if (rows.length === 0) throw new Error("nothing was delivered");
  return collected.flows;
}

/** Rate × time once per flow, and at both ends of every interval that a flow reaches into. */
function productsIn(flows, intervals) {
  const within = (flow) => intervals.filter(({ start, end }) => flow.start < end && start < flow.end).length;
  return flows.reduce((sum, flow) => sum + 1 + 2 * within(flow), 0);
}

function multiply(count, start) {
  let sum = 0n;
  for (let i = 0; i < count; i++) sum += BigInt(80_000 + i) * BigInt(start + i);
  if (sum === 0n) throw new Error("nothing was multiplied");
}
