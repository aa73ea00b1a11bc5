/**
 * The service as it is in production, on a port of its own, with the demo's unit told up to a fixed moment: 18:46
 * of its third shift, by a clock that only tests set. The page it hands out is the built one.
 */

import { existsSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { fileURLToPath } from "node:url";
import type { FastifyInstance } from "fastify";
import { DEFAULT_ACCESS } from "../../src/access/settings.js";
import { newToken } from "../../src/access/token.js";
import { buildApp } from "../../src/app.js";
import { seed } from "../../src/demo/seed.js";
import { Ledger } from "../../src/ledger/ledger.js";
import { openSqlite } from "../../src/store/sqlite.js";
import type { Store } from "../../src/store/store.js";
import { instant } from "../../src/time/instant.js";
import { CHEAP } from "../rest/ward.js";

/** A quarter to seven, when the nurse of the day writes down what the devices show. */
export const AT = "2026-03-04T18:46:00-06:00";

export const PASSWORD = "an invented sentence";

const PAGE = fileURLToPath(new URL("../../dist/page", import.meta.url));

export class DemoUnit {
  private constructor(
    private readonly app: FastifyInstance,
    private readonly store: Store,
    private readonly clock: { now: number },
    private readonly tokens: ReadonlyMap<string, string>,
    /** Where the page is. */
    readonly url: string,
  ) {}

  /** The unit at `at`; `empty` is without a patient or a unit. */
  static async open({ at = AT, empty = false } = {}): Promise<DemoUnit> {
    if (!existsSync(PAGE)) throw new Error("the page is not built: npm run -s build");
    const clock = { now: Date.parse(at) };
    const store = await openSqlite(":memory:", { migrate: true });
    if (!empty) await seed(store, instant(clock.now));
    const tokens = new Map<string, string>();
    for (const role of ["nurse", "charge-nurse", "administrator", "integration"]) {
      const { secret, hash } = newToken();
      const good = { createdAt: instant(clock.now), expiresAt: null, revokedAt: null };
      await store.createToken({ id: role, hash, role, name: `Demo ${role}`, units: null, ...good });
      tokens.set(role, secret);
    }
    const settings = { ...DEFAULT_ACCESS, passwordCost: CHEAP };
    const app = await buildApp({
      ledger: new Ledger(store, () => clock.now),
      store,
      clock: () => clock.now,
      settings,
      pageRoot: PAGE,
    });
    await app.listen({ host: "127.0.0.1", port: 0 });
    const { port } = app.server.address() as AddressInfo;
    const unit = new DemoUnit(app, store, clock, tokens, `http://127.0.0.1:${port}/`);
    const account = { username: "n.daytime", name: "Nell Daytime (invented)", role: "nurse", units: null };
    await unit.send("accounts", { ...account, password: PASSWORD }, "administrator");
    return unit;
  }

  token(role = "nurse"): string {
    return this.tokens.get(role)!;
  }

  /** Lets so many minutes pass. */
  wait(minutes: number): void {
    this.clock.now += minutes * 60_000;
  }

  /** What the API answers, asked beside the page. */
  async answer<T>(path: string): Promise<T> {
    return (await this.ask(path, { headers: this.headers("nurse") })) as T;
  }

  /** Posts what has to be taken. */
  async send<T>(path: string, body: unknown, as = "nurse"): Promise<T> {
    const headers = { ...this.headers(as), "content-type": "application/json" };
    return (await this.ask(path, { method: "POST", headers, body: JSON.stringify(body) })) as T;
  }

  async close(): Promise<void> {
    // The page keeps its connections open.
    this.app.server.closeAllConnections();
    await this.app.close();
    await this.store.close();
  }

  private headers(role: string): Record<string, string> {
    return { authorization: `Bearer ${this.token(role)}` };
  }

  private async ask(path: string, init: RequestInit): Promise<unknown> {
    const response = await fetch(`${this.url}v1/${path}`, init);
    if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
    return response.json();
  }
}
