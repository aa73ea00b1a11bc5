/** The log of accesses: what it keeps, who reads it, and what becomes of it while the database is away. */

import { type AddressInfo, connect } from "node:net";
import { Writable } from "node:stream";
import { pino } from "pino";
import { describe, expect, it } from "vitest";
import { AccessLog } from "../../src/access/access-log.js";
import { type Store, StoreUnavailable } from "../../src/store/store.js";
import { at, ENTRIES, SALINE, STAY, Ward } from "../rest/ward.js";
import { openLedger } from "../store/ledger-file.js";

const ACCESSES = "/v1/encounters/stay-1/accesses";

interface Logged {
  readonly route: string;
  readonly status: number;
  readonly by: { readonly id: string };
}

async function logged(ward: Ward, query = ""): Promise<Logged[]> {
  return (await ward.done("GET", ACCESSES + query, { as: "charge-nurse" })).body.accesses;
}

describe("of an encounter is kept", () => {
  it("who read and wrote what, the last first, and how it ended", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    await ward.record([{ ...SALINE[3], id: "other", rate: -1 }]);
    await ward.get("/v1/encounters/stay-1/totals", { as: "integration" });
    await ward.ask("PATCH", "/v1/encounters/stay-1", { body: { bed: "14" } });
    expect((await logged(ward)).map(({ by, route, status }) => [by.id, route, status])).toEqual([
      ["nurse", "PATCH /v1/encounters/{encounter}", 200],
      ["integration", "GET /v1/encounters/{encounter}/totals", 200],
      ["nurse", "POST /v1/encounters/{encounter}/entries", 422],
      ["nurse", "POST /v1/encounters/{encounter}/entries", 201],
      ["nurse", "POST /v1/encounters", 201],
    ]);
  });

  it("who tried and was not let in, and who looked at this very log", async () => {
    const ward = await Ward.open();
    await ward.get(ENTRIES, { as: "nurse@west" });
    await ward.record(SALINE, { as: "device@west" });
    await ward.get(ENTRIES, { as: "administrator" });
    await ward.get(ENTRIES, { as: null });
    await ward.get("/v1/encounters/nowhere/entries");
    await logged(ward);
    expect((await logged(ward)).map(({ by, route, status }) => [by.id, route, status])).toEqual([
      ["charge-nurse", "GET /v1/encounters/{encounter}/accesses", 200],
      ["administrator", "GET /v1/encounters/{encounter}/entries", 403],
      ["device@west", "POST /v1/encounters/{encounter}/entries", 404],
      ["nurse@west", "GET /v1/encounters/{encounter}/entries", 404],
      ["nurse", "POST /v1/encounters", 201],
    ]);
  });

  it("nothing of what was asked or answered", async () => {
    const ward = await Ward.open();
    await ward.record([{ kind: "intake-measured", at: at("09:00"), category: "oral", volume: 731.125 }]);
    await ward.get("/v1/encounters/stay-1/volumes?shift=2026-03-04/day&precision=1");
    const text = JSON.stringify(await logged(ward));
    for (const secret of ["731", "20417", "Imaginary", "2026-03-04/day", "precision"]) {
      expect(text).not.toContain(secret);
    }
  });

  it("page after page", async () => {
    const ward = await Ward.open();
    for (let i = 0; i < 4; i++) await ward.get(ENTRIES);
    const first = await ward.done("GET", `${ACCESSES}?limit=3`, { as: "charge-nurse" });
    expect(first.body.accesses).toHaveLength(3);
    expect(first.headers.link).toBe(`<${first.body.next}>; rel="next"`);
    const second = await ward.done("GET", first.body.next, { as: "charge-nurse" });
    expect(second.body.accesses.map(({ route }: Logged) => route)).toEqual([
      "GET /v1/encounters/{encounter}/entries",
      "POST /v1/encounters",
    ]);
    expect(second.body.next).toBeUndefined();
    expect((await ward.get(`${ACCESSES}?after=x`, { as: "charge-nurse" })).status).toBe(400);
  });

  it("nothing of what happened to another", async () => {
    const ward = await Ward.open();
    await ward.get("/v1/encounters/stay-2/entries");
    expect(await logged(ward)).toHaveLength(1);
  });
});

/** A store that can be made to write nothing for a while. */
function away(store: Store) {
  const state = { away: false, written: 0 };
  const transact: Store["transact"] = (decide) => {
    if (state.away) return Promise.reject(new StoreUnavailable("away"));
    state.written++;
    return store.transact(decide);
  };
  return { state, store: { read: store.read.bind(store), transact } };
}

const noted = {
  encounter: "a",
  caller: "c",
  name: "C",
  role: "nurse",
  route: "GET /",
  status: 200,
  emergency: null,
};

describe("what is noted", () => {
  it("is written together, as soon as there is enough of it", async () => {
    const { state, store } = away(await openLedger());
    const log = new AccessLog(store, () => 0);
    for (let i = 0; i < 199; i++) log.note(noted);
    expect(state.written).toBe(0);
    log.note(noted);
    await log.flush();
    expect(state.written).toBe(1);
    const page = await log.of("a", null, 1_000);
    expect(page.refused ? [] : page.done.accesses).toHaveLength(200);
  });

  it("waits while the database is away, in its order, and nobody reads unseen once too much waits", async () => {
    const { state, store } = away(await openLedger());
    const log = new AccessLog(store, () => 0);
    state.away = true;
    for (let i = 0; i < 9_999; i++) log.note({ ...noted, status: 200 + (i % 7) });
    await expect(log.flush()).rejects.toBeInstanceOf(StoreUnavailable);
    expect(() => log.mustHaveRoom()).not.toThrow();
    log.note({ ...noted, status: 418 });
    expect(() => log.mustHaveRoom()).toThrow(StoreUnavailable);
    state.away = false;
    await log.flush();
    expect(() => log.mustHaveRoom()).not.toThrow();
    const page = await log.of("a", null, 3);
    expect(page.refused ? [] : page.done.accesses.map(({ status }) => status)).toEqual([418, 202, 201]);
  });

  it("is written before the service stops", async () => {
    const ward = await Ward.open({ keep: true });
    await ward.get(ENTRIES);
    await ward.app.close();
    const ask = { ask: "accesses", encounter: "stay-1", before: 1_000, limit: 9 } as const;
    const found = await ward.store.read(function* () {
      return (yield ask) as unknown[];
    });
    expect(found).toHaveLength(2);
    await ward.store.close();
  });
});

/** A store whose readings wait from some one on, until they are let go. */
function waiting() {
  const state = { from: Number.POSITIVE_INFINITY, reached: () => {}, go: () => {} };
  const gone = new Promise<void>((resolve) => {
    state.go = resolve;
  });
  const store = (real: Store): Store =>
    new Proxy(real, {
      get(of, name) {
        const value = Reflect.get(of, name) as unknown;
        if (typeof value !== "function") return value;
        if (name !== "read") return value.bind(of);
        return async (...given: Parameters<Store["read"]>) => {
          if (--state.from < 0) {
            state.reached();
            await gone;
          }
          return of.read(...given);
        };
      },
    });
  return { state, store };
}

describe("of a unit is kept", () => {
  const AUDIT = "/v1/units/east/audit?shift=2026-03-04/day";
  const ofUnit = async (ward: Ward, as: string, query = "") =>
    (await ward.done("GET", `/v1/units/east/accesses${query}`, { as })).body;
  const told = ({ accesses }: { accesses: Logged[] }) =>
    accesses.map(({ by, route, status }) => [by.id, route, status]);

  it("who read lists and audits of it, and who tried, for its charge nurse and administrator", async () => {
    const ward = await Ward.open();
    // Whose id is taken is told so, wherever that patient lies, and it is kept that they asked.
    const { status } = await ward.ask("POST", "/v1/encounters", {
      as: "nurse@east",
      body: { ...STAY, id: "stay-2" },
    });
    expect(status).toBe(409);
    await ward.get("/v1/encounters", { as: "nurse@east" });
    await ward.get("/v1/encounters", { as: "nurse@west" });
    await ward.get("/v1/encounters", { as: "integration" });
    await ward.get(AUDIT, { as: "charge-nurse@east" });
    await ward.get(AUDIT, { as: "charge-nurse@west" });
    await ward.get(AUDIT, { as: "nurse@east" });
    await ward.get("/v1/units/nowhere/audit", { as: "charge-nurse" });
    await ward.get("/v1/encounters/stay-1", { as: "nurse@east" });
    const list = "GET /v1/encounters";
    const audit = "GET /v1/units/{unit}/audit";
    for (const as of ["charge-nurse@east", "administrator@east", "administrator"]) {
      expect(told(await ofUnit(ward, as)), as).toEqual([
        ["nurse@east", audit, 403],
        ["charge-nurse@west", audit, 404],
        ["charge-nurse@east", audit, 200],
        ["integration", list, 200],
        ["nurse@east", list, 200],
        ["nurse@east", "POST /v1/encounters", 409],
      ]);
    }
    expect(told(await ofUnit(ward, "charge-nurse", "?limit=1"))).toEqual([["nurse@east", audit, 403]]);
    const { next } = await ofUnit(ward, "charge-nurse", "?limit=4");
    expect(told((await ward.done("GET", next, { as: "charge-nurse" })).body)).toHaveLength(2);
  });

  it("and none of it for the other unit's, nor for who may not audit", async () => {
    const ward = await Ward.open();
    const of = async (as: string) => (await ward.get("/v1/units/east/accesses", { as })).status;
    expect(await of("charge-nurse@west")).toBe(404);
    expect(await of("nurse@east")).toBe(403);
    expect(await of("integration")).toBe(403);
  });
});

describe("who breaks off what they read", () => {
  it.each([
    ["an export of which the first part has come", "/v1/encounters/stay-1/export", 1],
    ["a list that is being written", `${ENTRIES}?limit=1000`, 0],
  ])("is in the log all the same: %s", async (_, path, readings) => {
    const lines: { msg: string; caller: string; status: number }[] = [];
    const stream = new Writable({
      write(chunk: Buffer, _encoding, next) {
        lines.push(JSON.parse(chunk.toString()));
        next();
      },
    });
    const { state, store } = waiting();
    const ward = await Ward.open({ logger: pino({ level: "info", base: null }, stream), store });
    await ward.record(Array.from({ length: 490 }, (__, i) => ({ ...SALINE[0], id: `line-${i}` })));
    await ward.record(Array.from({ length: 490 }, (__, i) => ({ ...SALINE[0], id: `again-${i}` })));
    await ward.app.listen({ host: "127.0.0.1", port: 0 });
    const { port } = ward.app.server.address() as AddressInfo;
    const reached = new Promise<void>((resolve) => {
      Object.assign(state, { from: readings, reached: resolve });
    });
    const socket = connect(port, "127.0.0.1");
    const authorization = `authorization: Bearer ${ward.token("charge-nurse")}`;
    socket.write(`GET ${path} HTTP/1.1\r\nhost: x\r\n${authorization}\r\n\r\n`);
    await reached;
    socket.resetAndDestroy();
    await expect.poll(() => lines.at(-1)).toMatchObject({ msg: "broken off", caller: "charge-nurse" });
    state.from = Number.POSITIVE_INFINITY;
    state.go();
    const [first] = await logged(ward);
    expect([first!.by.id, first!.route, first!.status]).toEqual([
      "charge-nurse",
      `GET ${path.replace("stay-1", "{encounter}").split("?")[0]}`,
      200,
    ]);
  });
});
