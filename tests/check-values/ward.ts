/** The running app with an empty unit in UTC, a nurse's token and a clock, for whoever charts through REST. */

import request from "supertest";
import { newToken } from "../../src/access/token.js";
import { buildApp } from "../../src/app.js";
import { Ledger } from "../../src/ledger/ledger.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { instant } from "../../src/time/instant.js";

export interface Ward {
  /** Admits a patient and returns how to chart and ask for them. */
  admit(encounter: string, admittedAt: string, weight?: { value: number; unit: string }): Promise<Patient>;
  close(): Promise<void>;
}

export interface Patient {
  /** Records entries; throws with the answer unless they are recorded. */
  chart(...entries: readonly object[]): Promise<Recorded>;
  /** What a GET below the encounter answers. */
  ask<T>(path: string): Promise<T>;
  /** What a chart reconciled with the ledger comes to. */
  reconcile(body: object): Promise<Reconciliation>;
}

/** A slip: its kind, the entries concerned, and how much of the difference it accounts for. */
interface Slip {
  readonly kind: string;
  readonly entries: readonly string[];
  readonly accountsFor: number;
  readonly sentence: string;
}

export interface Reconciliation {
  readonly matches: readonly {
    readonly row: object;
    readonly charted: number;
    readonly ledger: number;
    readonly takenFor: string | null;
  }[];
  readonly notInUse: readonly { readonly row: object; readonly start: string; readonly sentence: string }[];
  readonly differences: readonly {
    readonly row: object;
    readonly start: string;
    readonly charted: number;
    readonly ledger: number;
    readonly difference: number;
    readonly severity: string;
    readonly takenFor: string | null;
    readonly sentence: string;
    readonly follows: readonly object[];
    readonly explanations: readonly (Slip & {
      readonly remaining: number;
      readonly together: readonly Slip[];
      readonly place: number;
      readonly tied: boolean;
    })[];
  }[];
  readonly notCharted: readonly {
    readonly row: object;
    readonly ledger: number;
    readonly entries: readonly string[];
  }[];
}

/** The explanations of a difference that share the first place, such as "left-out tea -240 + addition-slip -100". */
export function first({ explanations }: Reconciliation["differences"][number]): string[] {
  const told = ({ kind, entries, accountsFor }: Slip) => [kind, ...entries, accountsFor].join(" ");
  return explanations
    .filter(({ place }) => place === 1)
    .map((one) => [one, ...one.together].map(told).join(" + "));
}

export interface Recorded {
  readonly entries: readonly {
    readonly recorded: { readonly frozen?: { rate?: number; volume?: number } };
  }[];
}

export interface Volumes {
  readonly intervals: readonly { readonly start: string; readonly end: string; readonly complete: boolean }[];
  readonly rows: readonly {
    readonly key: string | null;
    readonly volumes: readonly (number | null)[];
    readonly total: number;
  }[];
  readonly sums: readonly (number | null)[];
  readonly total: number;
}

export interface Totals {
  readonly channels: readonly {
    readonly channel: string;
    readonly delivering: string;
    readonly flow: null | {
      readonly rate: number;
      readonly dripRate?: number;
      readonly left: number;
      readonly emptyAt: string | null;
      readonly endsAt: string | null;
    };
    readonly totals: readonly {
      readonly total: string;
      readonly expected: number;
      readonly lastReading: number | null;
      readonly atRisk: number;
      readonly since: string;
      readonly flows: readonly { readonly start: string; readonly end: string; readonly volume: number }[];
    }[];
  }[];
}

/** A ward whose present is `now`; its bags may give what their label says and `overfillAllowance` more. `changes` are dated changes of its settings. */
export async function ward(
  now: string,
  settings: object = {},
  changes: readonly object[] = [],
): Promise<Ward> {
  const store = await openSqlite(":memory:", { migrate: true });
  const clock = () => Date.parse(now);
  const { secret, hash } = newToken();
  const good = { units: null, createdAt: instant(clock()), expiresAt: null, revokedAt: null };
  const record = { id: "ward", hash, name: "Check values", ...good };
  await store.createToken({ ...record, role: "nurse" });
  const office = newToken();
  await store.createToken({ ...record, id: "office", hash: office.hash, role: "administrator" });
  const app = await buildApp({ ledger: new Ledger(store, clock), store, clock });
  await app.ready();
  const send = async (path: string, body: object, token = secret) => {
    const answer = await request(app.server).post(path).set("authorization", `Bearer ${token}`).send(body);
    if (answer.status !== 201) throw new Error(`${path}: ${answer.status} ${answer.text}`);
    return answer.body;
  };
  const shifts = [
    { name: "day", starts: "07:00" },
    { name: "night", starts: "19:00" },
  ];
  await send("/v1/units", { id: "ward", name: "Check values", zone: "UTC", shifts, settings }, office.secret);
  for (const change of changes) {
    const patch = request(app.server).patch("/v1/units/ward").set("authorization", `Bearer ${office.secret}`);
    const answer = await patch.send(change);
    if (answer.status !== 200) throw new Error(`${answer.status} ${answer.text}`);
  }
  return {
    async admit(encounter, admittedAt, weight) {
      const patient = { identifier: encounter };
      const body = {
        id: encounter,
        unit: "ward",
        patient,
        admittedAt,
        ...(weight && { admissionWeight: weight }),
      };
      await send("/v1/encounters", body);
      const below = `/v1/encounters/${encounter}`;
      return {
        chart: (...entries) => send(`${below}/entries`, { entries }),
        async ask(path) {
          const answer = await request(app.server)
            .get(`${below}/${path}`)
            .set("authorization", `Bearer ${secret}`);
          if (answer.status !== 200) throw new Error(`${path}: ${answer.status} ${answer.text}`);
          return answer.body;
        },
        async reconcile(body) {
          const answer = await request(app.server)
            .post(`${below}/reconciliation`)
            .set("authorization", `Bearer ${secret}`)
            .send(body);
          if (answer.status !== 200) throw new Error(`${answer.status} ${answer.text}`);
          return answer.body;
        },
      };
    },
    async close() {
      await app.close();
      await store.close();
    },
  };
}
