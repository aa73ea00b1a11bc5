/**
 * A ward behind HTTP: two units, a patient in each, and a token for every role. It is 4 March 2026, 14:00
 * in Chicago, until the clock is set. Nothing here computes anything.
 */

import type { FastifyInstance } from "fastify";
import type { Logger } from "pino";
import request, { type Response, type Test } from "supertest";
import { onTestFinished } from "vitest";
import { ROLES, type Role } from "../../src/access/roles.js";
import { type AccessSettings, DEFAULT_ACCESS } from "../../src/access/settings.js";
import { newToken } from "../../src/access/token.js";
import { buildApp } from "../../src/app.js";
import { Ledger } from "../../src/ledger/ledger.js";
import type { StreamSettings } from "../../src/rest/stream.js";
import { openSqlite } from "../../src/store/sqlite.js";
import type { Row, Store } from "../../src/store/store.js";
import { type Instant, instant } from "../../src/time/instant.js";

/** "07:30" on 4 March 2026 in Chicago, as RFC 3339. */
export function at(clock: string): string {
  return `2026-03-04T${clock}:00-06:00`;
}

export const EAST = {
  id: "east",
  name: "East",
  zone: "America/Chicago",
  shifts: [
    { name: "day", label: "Day", starts: "07:00" },
    { name: "night", label: "Night", starts: "19:00" },
  ],
};
export const WEST = { ...EAST, id: "west", name: "West" };

export const STAY = {
  id: "stay-1",
  unit: "east",
  bed: "12",
  patient: { identifier: "P-20417", name: "Imaginary Person" },
  admittedAt: at("06:00"),
  admissionWeight: { value: 70, unit: "kg" },
};

/** A line, a pump, a litre of saline, and 75 mL/h from 07:00. */
export const SALINE = [
  {
    id: "line-1",
    kind: "line-placed",
    at: at("07:00"),
    line: "forearm",
    label: "Left forearm",
    route: "intravenous",
  },
  {
    id: "pump",
    kind: "channel-connected",
    at: at("07:00"),
    channel: "pump-1",
    line: "forearm",
    type: "pump",
    totals: "separate",
    rateStep: 0.1,
  },
  {
    id: "bag",
    kind: "bag-hung",
    at: at("07:00"),
    channel: "pump-1",
    role: "primary",
    bag: "saline-1",
    volume: 1000,
    fluid: { name: "Sodium chloride 0.9 %", category: "iv-fluid" },
  },
  { id: "start", kind: "flow-started", at: at("07:00"), channel: "pump-1", rate: 75 },
] as const;

export const ENTRIES = "/v1/encounters/stay-1/entries";

export interface Asking {
  readonly as?: Role | string | null;
  readonly body?: unknown;
  readonly headers?: Readonly<Record<string, string>>;
}

/** The tokens that are for one unit alone are called by a role and "@west" or "@east". */
export type Tokens = Readonly<Record<string, string>>;

/** Passwords of tests may be guessed fast. */
export const CHEAP = { ln: 4, r: 8, p: 1 };

export class Ward {
  private constructor(
    readonly app: FastifyInstance,
    readonly store: Store,
    private readonly tokens: Tokens,
    private readonly clock: { now: number },
  ) {}

  /** A ward with its units, patients and tokens; `empty` leaves the first two out. */
  static async open(
    options: {
      empty?: boolean;
      logger?: Logger;
      pageRoot?: string;
      store?: (store: Store) => Store;
      settings?: Partial<AccessSettings>;
      /** Streams end as soon as they have begun, unless told otherwise. */
      streams?: Partial<StreamSettings>;
      /** Whoever opens it closes it, and not the end of a test. */
      keep?: boolean;
    } = {},
  ): Promise<Ward> {
    const clock = { now: Date.parse(at("14:00")) };
    const opened = await openSqlite(":memory:", { migrate: true });
    const store = options.store?.(opened) ?? opened;
    const tokens: Record<string, string> = {};
    for (const role of ROLES) {
      tokens[role] = await tokenFor(opened, role, null, clock.now);
      for (const unit of ["east", "west"]) {
        tokens[`${role}@${unit}`] = await tokenFor(opened, role, [unit], clock.now);
      }
    }
    const { logger, pageRoot } = options;
    const settings = { ...DEFAULT_ACCESS, passwordCost: CHEAP, ...options.settings };
    const streams = { every: 2, lasts: 20, silence: 10, most: 3, ...options.streams };
    const ledger = new Ledger(store, () => clock.now);
    const app = await buildApp({
      ledger,
      store,
      clock: () => clock.now,
      logger,
      pageRoot,
      settings,
      streams,
    });
    await app.ready();
    const ward = new Ward(app, opened, tokens, clock);
    if (!options.keep) onTestFinished(() => ward.close());
    if (options.empty) return ward;
    await ward.done("POST", "/v1/units", { as: "administrator", body: EAST });
    await ward.done("POST", "/v1/units", { as: "administrator", body: WEST });
    await ward.done("POST", "/v1/encounters", { body: STAY });
    await ward.done("POST", "/v1/encounters", { body: { ...STAY, id: "stay-2", unit: "west" } });
    return ward;
  }

  /** Sets the clock: "15:00", or an instant. */
  itIs(clock: string): void {
    this.clock.now = Date.parse(clock.includes("T") ? clock : at(clock));
  }

  get now(): Instant {
    return instant(this.clock.now);
  }

  /** Every row of every chain, as it is stored. */
  rows(): Row[] {
    return [...this.store.everyRow()];
  }

  async close(): Promise<void> {
    await this.app.close();
    await this.store.close();
  }

  /** A new token, for units of its own. */
  tokenFor(role: Role, units: readonly string[]): Promise<string> {
    return tokenFor(this.store, role, units, this.clock.now);
  }

  token(as: string): string {
    return this.tokens[as] ?? as;
  }

  /** Asks as a nurse of every unit, unless told otherwise; null sends no token. */
  ask(method: string, path: string, { as = "nurse", body, headers = {} }: Asking = {}): Test {
    const asked = request(this.app.server)[method.toLowerCase() as "get"](path);
    if (as !== null) asked.set("authorization", `Bearer ${this.token(as)}`);
    asked.set(headers);
    return body === undefined ? asked : asked.send(body as object);
  }

  get(path: string, asking: Asking = {}): Test {
    return this.ask("GET", path, asking);
  }

  record(entries: readonly unknown[], asking: Asking & { query?: string } = {}): Test {
    return this.ask("POST", ENTRIES + (asking.query ?? ""), { body: { entries }, ...asking });
  }

  /** Asks what has to succeed for a test to be about anything. */
  async done(method: string, path: string, asking: Asking): Promise<Response> {
    const response = await this.ask(method, path, asking);
    if (response.status >= 300) throw new Error(`${method} ${path}: ${response.status} ${response.text}`);
    return response;
  }
}

async function tokenFor(
  store: Store,
  role: string,
  units: readonly string[] | null,
  now: number,
): Promise<string> {
  const { secret, hash } = newToken();
  const id = `${role}${units === null ? "" : `@${units.join("+")}`}`;
  const good = { createdAt: instant(now), expiresAt: null, revokedAt: null };
  await store.createToken({ id, hash, role, name: `The ${id}`, units, ...good });
  return secret;
}
