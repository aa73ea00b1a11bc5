/** What an audit need not work out again: told by how often the course is begun from a checkpoint. */

import { expect, it, onTestFinished } from "vitest";
import { Ledger } from "../../src/ledger/ledger.js";
import { openSqlite } from "../../src/store/sqlite.js";
import type { Inquiry, Store } from "../../src/store/store.js";
import { type Instant, instant } from "../../src/time/instant.js";
import { type Json, Stay } from "./stay.js";
import { drank, on, running } from "./telling.js";

/** Four days of a stay in which nothing is in doubt, at 19:30 of 7 March, and a ledger whose questions are counted. */
async function fourDays() {
  const stay = await Stay.begun({ now: "07:00" });
  await stay.post(running());
  await stay.itIs("13:00").post([on("13:00", "flow-stopped")]);
  for (const day of [4, 5, 6, 7]) {
    const told = [14, 16, 18].map((hour) => drank(`${day} ${hour}:00`, 100));
    await stay.itIs(`${day} 19:30`).post(told);
  }
  const store = await openSqlite(stay.path, { migrate: false });
  onTestFinished(() => store.close());
  return { stay, ...counted(store, () => instant(stay.now)) };
}

function counted(store: Store, clock: () => Instant) {
  let begun = 0;
  function* watched<T>(inquiry: Inquiry<T>): Inquiry<T> {
    let step = inquiry.next();
    while (!step.done) {
      if (step.value.ask === "checkpoint") begun++;
      step = inquiry.next(yield step.value);
    }
    return step.value;
  }
  const read: Store["read"] = (inquire) => store.read(() => watched(inquire()));
  const ledger = new Ledger({ read } as Store, clock);
  const count = async (audit: Promise<Json>) => {
    begun = 0;
    const answer = await audit;
    return { answer, begun };
  };
  return { ledger, count };
}

it("as of an earlier moment, a shift that was over by then, and that nothing recorded since concerns", async () => {
  const { stay, ledger, count } = await fourDays();
  await stay.audit("2026-03-06/night", { ledger });
  const recordedBy = stay.now;
  stay.itIs("7 20:30");
  await stay.post([drank("7 20:00", 50)]);
  const { answer, begun } = await count(stay.audit("2026-03-06/night", { ledger, recordedBy }));
  expect(begun).toBe(0);
  expect(answer).toEqual(await stay.audit("2026-03-06/night", { ledger: stay.afresh(), recordedBy }));
  // Something of that very night, charted late: then it is worked out as it was, and as it is.
  await stay.post([drank("7 02:00", 70)]);
  const then = await count(stay.audit("2026-03-06/night", { ledger, recordedBy }));
  expect(then.answer).toEqual(answer);
  const now = await stay.audit("2026-03-06/night", { ledger });
  expect(now).toEqual(await stay.audit("2026-03-06/night", { ledger: stay.afresh() }));
});

it("the days before another shift, where they are known to have nothing in doubt", async () => {
  const { stay, ledger, count } = await fourDays();
  await stay.audit("2026-03-07/day", { ledger });
  const again = await count(stay.audit("2026-03-06/night", { ledger }));
  // Only its own course, and what is known when it ends.
  const { begun } = await count(stay.audit("2026-03-05/night", { ledger }));
  expect([again.begun, begun].every((times) => times <= 5)).toBe(true);
  expect(again.answer).toEqual(await stay.audit("2026-03-06/night", { ledger: stay.afresh() }));
});
