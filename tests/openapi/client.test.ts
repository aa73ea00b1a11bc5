/** A typed client, made of the committed description alone, against the service as it runs. */

import type { AddressInfo } from "node:net";
import createClient from "openapi-fetch";
import { describe, expect, it } from "vitest";
import type { components, paths } from "../../openapi/client.js";
import { at, EAST, STAY, Ward } from "../rest/ward.js";

type Entry = components["schemas"]["PostedEntry"];

const ENTRIES: Entry[] = [
  { kind: "line-placed", at: at("07:00"), line: "forearm", label: "Left forearm", route: "intravenous" },
  { kind: "channel-connected", at: at("07:00"), channel: "pump-1", line: "forearm", type: "pump" },
  {
    kind: "bag-hung",
    at: at("07:00"),
    channel: "pump-1",
    bag: "saline-1",
    volume: 1000,
    fluid: { name: "Sodium chloride 0.9 %", category: "iv-fluid" },
  },
  { kind: "flow-started", at: at("07:00"), channel: "pump-1", rate: 75 },
];

async function clientFor(as: string) {
  const ward = await Ward.open({ empty: true });
  await ward.app.listen({ host: "127.0.0.1", port: 0 });
  const { port } = ward.app.server.address() as AddressInfo;
  const baseUrl = `http://127.0.0.1:${port}`;
  const client = (role: string) =>
    createClient<paths>({ baseUrl, headers: { authorization: `Bearer ${ward.token(role)}` } });
  const { response } = await client("administrator").POST("/v1/units", { body: EAST });
  expect(response.status).toBe(201);
  return client(as);
}

describe("a typed client", () => {
  it("admits a patient, records a flow and reads its volumes", async () => {
    const client = await clientFor("nurse");
    const admitted = await client.POST("/v1/encounters", {
      body: { ...STAY, admissionWeight: { value: 70, unit: "kg" } },
    });
    expect(admitted.data?.ledger.sequence).toBe(1);

    const path = { encounter: "stay-1" };
    const recorded = await client.POST("/v1/encounters/{encounter}/entries", {
      params: { path, header: { "If-Match": '"1"', "Idempotency-Key": "first" } },
      body: { entries: ENTRIES },
    });
    // A device would be told less.
    if (recorded.data === undefined || !("findings" in recorded.data)) throw new Error("not recorded");
    expect(recorded.data.entries.map(({ kind }) => kind)).toEqual(ENTRIES.map(({ kind }) => kind));

    const volumes = await client.GET("/v1/encounters/{encounter}/volumes", {
      params: { path, query: { shift: "2026-03-04/day", by: "whole", per: "category" } },
    });
    // 75 mL/h from 07:00 to now, 14:00.
    expect(volumes.data?.rows).toMatchObject([{ key: "iv-fluid", total: 525 }]);

    const kinds = await client.GET("/v1/encounters/{encounter}/entries", {
      params: { path, query: { kind: ["bag-hung", "flow-started"], limit: 1 } },
    });
    expect(kinds.data?.entries.map(({ kind }) => kind)).toEqual(["bag-hung"]);
    expect(kinds.data?.next).toContain("kind=bag-hung&kind=flow-started");
  });

  it("is told of a refusal what it can switch on", async () => {
    const client = await clientFor("nurse");
    await client.POST("/v1/encounters", { body: { ...STAY, admissionWeight: { value: 70, unit: "kg" } } });
    const { error } = await client.POST("/v1/encounters/{encounter}/entries", {
      params: { path: { encounter: "stay-1" } },
      body: { entries: [{ kind: "flow-started", at: at("07:00"), channel: "pump-1", rate: 0.0001 }] },
    });
    if (error?.type !== "/problems/invalid-entries") throw new Error(`not the type: ${error?.type}`);
    expect(error.errors.map(({ code }) => code)).toEqual(["too-many-decimals"]);
  });

  it("does not compile what the service would refuse", async () => {
    const client = await clientFor("nurse");
    await client.POST("/v1/encounters", { body: { ...STAY, admissionWeight: { value: 70, unit: "kg" } } });
    // @ts-expect-error a flow starts at a rate or in another way, and this one in none
    const none: Entry = { kind: "flow-started", at: at("07:00"), channel: "pump-1" };
    // @ts-expect-error there is no such kind
    const unknown: Entry = { kind: "flow-guessed", at: at("07:00"), channel: "pump-1" };
    const { error } = await client.POST("/v1/encounters/{encounter}/entries", {
      params: { path: { encounter: "stay-1" } },
      body: { entries: [none, unknown] },
    });
    expect(error).toMatchObject({ errors: [{ code: "exactly-one-of" }, { code: "unknown-kind" }] });
  });
});
