/** What the ledger has in memory of a stay being charted is what the entries in the file come to. */

import { expect, it } from "vitest";
import { Stay } from "./stay.js";
import { change, drank, running, type Told, void_ } from "./telling.js";

const CHANGES = 50;

/** A rate for every minute from 08:01 on, each charted by itself. */
function changes(): Told[] {
  return Array.from({ length: CHANGES }, (_, i) =>
    change(`08:${String(i + 1).padStart(2, "0")}`, 60 + i, { id: `rate-${i}` }),
  );
}

/** The state at the start of the night, kept when the first entry of the night is charted. */
async function nightBegins(stay: Stay): Promise<string> {
  await stay.itIs("20:00").post([drank("20:00", 100)]);
  let text = "";
  await stay.inTheFile((file) => {
    text = file.prepare("select text from checkpoint order by at desc").pluck().get() as string;
  });
  return text;
}

async function charted(entries: readonly Told[]): Promise<Stay> {
  const stay = await Stay.begun();
  await stay.post(running());
  for (const entry of entries) await stay.post([entry]);
  return stay;
}

/** Places before, at and after those whose states are kept, with the four entries that begin the stay. */
const PLACES = [0, 10, 11, 12, 13, 27, 28, 29, 30, CHANGES - 1];

it.each(PLACES)("a rate charted after all others belongs in its place among them: %i", async (place) => {
  const all = changes();
  const late = all[place]!;
  const inMemory = await charted([...all.filter((entry) => entry !== late), late]);
  const fromFile = await (await charted(all)).reopened();
  expect(await nightBegins(inMemory)).toBe(await nightBegins(fromFile));
});

it.each(PLACES)("a rate made void is taken out of its place among the others: %i", async (place) => {
  const all = changes();
  const inMemory = await charted([...all, void_(`rate-${place}`)]);
  const fromFile = await (await charted(all.filter((_, i) => i !== place))).reopened();
  expect(await nightBegins(inMemory)).toBe(await nightBegins(fromFile));
});
