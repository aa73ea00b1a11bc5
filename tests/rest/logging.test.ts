/** The log of requests: enough to run the service by, and nothing that was written of a patient. */

import { Writable } from "node:stream";
import { pino } from "pino";
import { describe, expect, it } from "vitest";
import type { Store } from "../../src/store/store.js";
import { at, ENTRIES, SALINE, Ward } from "./ward.js";

interface Line {
  readonly msg: string;
  readonly [field: string]: unknown;
}

function logOf() {
  const lines: Line[] = [];
  const stream = new Writable({
    write(chunk: Buffer, _, next) {
      lines.push(JSON.parse(chunk.toString()) as Line);
      next();
    },
  });
  return { lines, logger: pino({ level: "trace", base: null }, stream) };
}

describe("the log", () => {
  it("says which route was asked by whom, how it ended and how long it took", async () => {
    const { lines, logger } = logOf();
    const ward = await Ward.open({ logger });
    lines.length = 0;
    await ward.get("/v1/encounters/stay-1/volumes?shift=2026-03-04/day&by=shift&precision=1", {
      headers: { "x-request-id": "request-1" },
    });
    expect(lines).toEqual([
      {
        level: 30,
        time: expect.any(Number),
        request: "request-1",
        method: "GET",
        route: "/v1/encounters/:encounter/volumes",
        query: { by: "shift", precision: "1" },
        caller: "nurse",
        role: "nurse",
        status: 200,
        ms: expect.any(Number),
        msg: "answered",
      },
    ]);
  });

  it("has no patient, no id of one, no figure and no token in it, whatever is sent wherever", async () => {
    const { lines, logger } = logOf();
    const ward = await Ward.open({ logger });
    await ward.record([
      ...SALINE,
      { kind: "intake-measured", at: at("09:00"), category: "oral", volume: 731.125 },
    ]);
    await ward.record([{ ...SALINE[3], note: "Imaginary Person is thirsty" }]);
    await ward.ask("POST", ENTRIES, {
      body: '{"note":"Imaginary Person',
      headers: { "content-type": "application/json" },
    });
    await ward.get("/v1/encounters?order=Imaginary&by=p-20417&patient=P-20417");
    await ward.get("/v1/encounters/stay-1/Imaginary");
    await ward.get("/Imaginary/%zz");
    await ward.get("/v1/me", { as: "Imaginary-token", headers: { "x-request-id": "Imaginary Person" } });
    const text = JSON.stringify(lines);
    const secrets = ["Imaginary", "20417", "stay-1", "731.125", "Sodium", ward.token("nurse")];
    expect(secrets.filter((secret) => text.includes(secret))).toEqual([]);
    expect(lines.filter(({ msg }) => msg === "answered").length).toBeGreaterThan(9);
  });

  it("has a mistake of the service with its stack, under the id that the caller was given", async () => {
    const { lines, logger } = logOf();
    const broken = (store: Store): Store =>
      Object.assign(Object.create(store) as Store, {
        tokenByHash: (hash: string) => store.tokenByHash(hash),
        read: () => Promise.reject(new TypeError("the slip")),
      });
    const ward = await Ward.open({ logger, empty: true, store: broken });
    const answer = await ward.get("/v1/units");
    const errors = lines.filter(({ level }) => level === 50);
    expect(errors).toMatchObject([
      {
        request: answer.headers["x-request-id"],
        msg: "internal",
        err: { message: "the slip", type: "TypeError" },
      },
    ]);
    expect(JSON.stringify(errors[0]!.err)).toContain("logging.test.ts");
  });
});
