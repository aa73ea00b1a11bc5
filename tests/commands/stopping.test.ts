/** How the service ends when somebody it waits for never comes to an end. */

import fastify from "fastify";
import { describe, expect, it } from "vitest";
import { stop } from "../../src/commands/serve.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { StoreUnavailable } from "../../src/store/store.js";

describe("a request that takes longer than the grace", () => {
  it("is cut off, and the store is closed", async () => {
    const store = await openSqlite(":memory:", { migrate: true });
    const app = fastify();
    let reached = () => {};
    const begun = new Promise<void>((resolve) => {
      reached = resolve;
    });
    app.get("/endless", () => {
      reached();
      return new Promise(() => {});
    });
    const url = await app.listen({ host: "127.0.0.1", port: 0 });
    const cut = expect(fetch(`${url}/endless`)).rejects.toThrow();
    await begun;
    await stop(app, store, app.log, 20);
    await cut;
    await expect(store.tokens()).rejects.toThrow(StoreUnavailable);
  });
});
