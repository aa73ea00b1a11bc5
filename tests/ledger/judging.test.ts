/** In which order a request is judged: the encounter, what is recorded already, the tag, sense, and ids last. */

import { describe, expect, it } from "vitest";
import { Stay } from "./stay.js";
import { change, start } from "./telling.js";

describe("what a request is judged by first", () => {
  const stale = { ifMatch: 4 };

  it("nothing, where all of it is recorded already: a retry is answered though the tag is stale", async () => {
    const stay = await Stay.running();
    expect((await stay.post([start("07:00", 75, { id: "start" })], stale)).status).toBe(200);
  });

  it("the tag, before sense and before ids", async () => {
    const stay = await Stay.running();
    const refusal = { problem: "stale-etag", sequence: 5, since: 4 };
    expect(await stay.refused([change("15:00", 80)], stale)).toEqual(refusal);
    expect(await stay.refused([start("07:00", 76, { id: "start" })], stale)).toEqual(refusal);
    expect(await stay.refused([start("07:00", 75, { id: "start" }), change("09:00", 80)], stale)).toEqual(
      refusal,
    );
  });

  it("the tag of an encounter that has not come so far, without entries since", async () => {
    const stay = await Stay.running();
    expect(await stay.refused([change("09:00", 80)], { ifMatch: 6 })).toEqual({
      problem: "stale-etag",
      sequence: 5,
      since: null,
    });
    expect((await stay.post([change("09:00", 80)], { ifMatch: 5 })).status).toBe(201);
  });

  it("sense, before ids that are taken", async () => {
    const stay = await Stay.running();
    const request = [start("07:00", 76, { id: "start" }), change("15:00", 80)];
    expect(await stay.faults(request)).toEqual(["#/entries/1/at too-far-ahead"]);
  });

  it("whether the encounter is there, before all of it", async () => {
    const stay = await Stay.running();
    expect(await stay.refused([change("15:00", 80)], { encounter: "nobody", ...stale })).toEqual({
      problem: "not-found",
      what: "encounter",
      id: "nobody",
    });
  });
});
