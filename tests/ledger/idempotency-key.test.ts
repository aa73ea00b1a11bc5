/** An Idempotency-Key: one request, one answer, to the letter, however often it is sent. */

import { describe, expect, it } from "vitest";
import { keyed, Stay } from "./stay.js";
import { drank, hang, on } from "./telling.js";

describe("an Idempotency-Key", () => {
  it("gives a retry without ids the same answer to the letter, and charts once", async () => {
    const stay = await Stay.running();
    const request = [drank("09:00", 150)];
    const first = await stay.send(request, { key: keyed("k-1", request) });
    await stay.post([drank("10:00", 100)]);
    const again = await stay.itIs("15:00").send(request, { key: keyed("k-1", request) });
    expect(again).toEqual(first);
    expect(await stay.sequence()).toBe(7);
    expect(await (await stay.reopened()).send(request, { key: keyed("k-1", request) })).toEqual(first);
  });

  it("is refused with another body", async () => {
    const stay = await Stay.running();
    await stay.post([drank("09:00", 150)], { key: keyed("k-1", [drank("09:00", 150)]) });
    const other = [drank("09:00", 151)];
    expect(await stay.refused(other, { key: keyed("k-1", other) })).toEqual({
      problem: "idempotency-key-reused",
    });
    expect((await stay.post(other, { key: keyed("k-2", other) })).status).toBe(201);
  });

  it("is not used up by a refusal", async () => {
    const stay = await Stay.running();
    const request = [drank("15:00", 150)];
    await stay.refused(request, { key: keyed("k-1", request) });
    expect((await stay.itIs("15:00").post(request, { key: keyed("k-1", request) })).status).toBe(201);
  });

  it("is not used up by a dry run, which records nothing", async () => {
    const stay = await Stay.running();
    const request = [drank("09:00", 150)];
    await stay.post(request, { dryRun: true, key: keyed("k-1", request) });
    expect((await stay.post(request, { key: keyed("k-1", request) })).status).toBe(201);
  });

  it("charts once when the retry overtakes the answer", async () => {
    const stay = await Stay.running();
    const request = [hang("09:00", "b", 500), on("09:00", "flow-paused")];
    const both = await Promise.all([1, 2].map(() => stay.post(request, { key: keyed("k-1", request) })));
    expect(both[1]).toEqual(both[0]);
    expect(await stay.sequence()).toBe(7);
  });

  it("is good for two days, and later a key like any other", async () => {
    const stay = await Stay.running();
    const request = [drank("09:00", 150)];
    const key = keyed("k-1", request);
    const first = await stay.send(request, { key });
    const later = (clock: string) => stay.itIs(clock).post([drank(clock, 5)], { key: keyed(clock, []) });
    await later("6 14:00");
    expect(await stay.send(request, { key })).toEqual(first);
    await later("6 14:01");
    await stay.post(request, { key });
    expect((await stay.entries()).filter(({ volume }) => volume === 150)).toHaveLength(2);
  });
});
