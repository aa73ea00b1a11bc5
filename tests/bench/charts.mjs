/**
 * A day's chart reconciled over REST, by the hour and 20 rows, with a ledger of 500 entries of that day: the whole of
 * it, from the rows in the file to the answer. Nearly every figure differs, so that nearly every one is explained.
 */

import { join } from "node:path";
import { Client } from "./client.mjs";
import { Random } from "./detection-random.mjs";
import { BenchLedger } from "./ledgers.mjs";
import { median, timed } from "./measuring.mjs";
import { started } from "./server.mjs";
import { BEGINS, DAY, MINUTE, story } from "./story.mjs";

const STAY = "charted-day";
const ROWS = 20;
const ENTRIES = 500;
const DAY_NAME = "2026-03-09";
const BOUND = 1_000;

const INTAKE = [
  "oral",
  "iv-push",
  "iv-flush",
  "blood-product",
  "enteral-feed",
  "enteral-water",
  "other-intake",
];
const OUTPUT = ["urine", "gastric", "emesis", "stool", "drain", "blood-loss", "other-output"];
const DRINKS = ["Tea", "Soup", "Coffee", "Water", "Milk"];

/** @param {{ quick: boolean, directory: string }} asked */
export async function charts({ quick, directory }) {
  const path = join(directory, "charted-day.db");
  const { token, count } = await fill(path);
  const server = await started({ kind: "ledger", path, standsAt: BEGINS + DAY });
  const client = new Client({ port: server.port, token });
  const address = `/v1/encounters/${STAY}`;
  const balance = JSON.parse(await client.get(`${address}/balance?day=${DAY_NAME}&by=hour`));
  const random = new Random("a chart that differs");
  const charted = () => changed(random, chartOf(balance));
  const rows = new Set(chartOf(balance).map(({ row }) => JSON.stringify(row))).size;
  const answers = [];
  const reconcile = async (figures) =>
    answers.push(JSON.parse(await client.post(`${address}/reconciliation`, { figures })));
  await reconcile(charted());
  const times = [];
  for (let i = 0; i < (quick ? 3 : 11); i++) {
    const figures = charted();
    times.push(await timed(() => reconcile(figures)));
  }
  await reconcile(chartOf(balance));
  client.close();
  await server.stop();
  if (answers.at(-1).differences.length > 0) throw new Error("a chart copied from the balance differs");
  const differing = median(answers.slice(0, -1).map(({ differences }) => differences.length));
  const milliseconds = median(times);
  return [
    {
      what: `POST reconciliation: 24 hours, ${rows} rows, ${count} entries, ${differing} figures different`,
      measured: `${milliseconds.toFixed(0)} ms`,
      bound: `< ${BOUND} ms`,
      holds: milliseconds < BOUND,
    },
  ];
}

/** A day of infusions as the other benches have it, and as many amounts as make 500 entries of it. */
async function fill(path) {
  const hours = story({ hours: 24, perHour: 14 });
  const ledger = await BenchLedger.open(path, BEGINS);
  await ledger.openUnit();
  await ledger.tell(STAY, hours);
  const told = hours[0].opening.length + hours.reduce((sum, { entries }) => sum + entries.length, 0);
  const random = new Random("what was drunk and passed");
  await ledger.post(
    STAY,
    Array.from({ length: ENTRIES - told }, (_, i) => amount(random, i)),
  );
  const token = await ledger.token();
  await ledger.close();
  return { token, count: ENTRIES };
}

function amount(random, i) {
  const at = new Date(BEGINS + random.whole(1, 24 * 60 - 1) * MINUTE).toISOString();
  const volume = random.whole(2, 30) * 10;
  const categories = [...INTAKE, ...OUTPUT];
  const category =
    i < categories.length ? categories[i] : random.oneOf(random.happens(0.5) ? INTAKE : OUTPUT);
  const item = category === "oral" ? { item: random.oneOf(DRINKS) } : {};
  if (INTAKE.includes(category)) return { kind: "intake-measured", at, category, volume, ...item };
  return { kind: "output-measured", at, category, volume };
}

/** The balance as a chart of 20 rows: its sums, its categories, and as many lines as it takes. */
function chartOf({ intervals, intake, output, net }) {
  const rows = [...intake.rows, ...output.rows].map(({ key, volumes }) => [{ category: key }, volumes]);
  const parts = intake.rows.flatMap((row) => row.parts);
  const lines = [...new Set(parts.flatMap(({ line }) => line ?? []))].map((line) => {
    const own = parts.filter((part) => part.line === line);
    const volumes = intervals.map((_, i) => own.reduce((sum, part) => sum + part.volumes[i] * 1_000, 0));
    return [{ line }, volumes.map((volume) => Math.round(volume) / 1_000)];
  });
  const sums = [
    [{ sum: "intake" }, intake.sums],
    [{ sum: "output" }, output.sums],
    [{ sum: "net" }, net],
  ];
  return [...sums, ...rows, ...lines]
    .slice(0, ROWS)
    .flatMap(([row, volumes]) =>
      intervals.map(({ start, end }, i) => ({ row, start, end, volume: volumes[i] })),
    );
}

/** Nearly every figure off by tens, and rounded as people write. */
function changed(random, figures) {
  return figures.map(({ volume, ...figure }) => {
    const off = random.happens(0.9) ? random.whole(-20, 40) * 10 : 0;
    const whole = Math.round(volume) + off;
    return { ...figure, volume: figure.row.sum === "net" ? whole : Math.max(0, whole) };
  });
}
