/**
 * Calls of the public API, and nothing else on the network. An answer is returned as it came; a 401
 * is thrown as SignedOut, any other refusal as Refused with the sentence the server gave.
 */

import type { Encounter, Flows, Hanging, Problem, Stay, Totals, Unit, Volumes } from "./answers.js";
import { words } from "./words.js";

export class SignedOut extends Error {}

export class Refused extends Error {
  constructor(
    readonly title: string,
    readonly detail: string,
  ) {
    super(`${title} ${detail}`);
  }
}

export class Client {
  /** Asks by a token, or with null as who has signed in; `attended` says that a person asked. */
  constructor(
    private readonly token: string | null,
    private readonly attended = true,
  ) {}

  /** Signs in; the browser keeps what stands for it. Rejects with Refused. */
  static async signIn(username: string, password: string): Promise<void> {
    const response = await fetch("/v1/session", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ username, password }),
    }).catch(() => {
      throw new Refused(words.failed.title, words.failed.noAnswer);
    });
    if (response.ok) return;
    const refused = await refusal(response);
    const seconds = response.headers.get("retry-after");
    throw seconds === null ? refused : new Refused(refused.title, words.signIn.wait(seconds));
  }

  /** Where to sign in at the hospital's identity provider; null where there is none. */
  static async provider(): Promise<string | null> {
    const response = await fetch("/v1/session").catch(() => null);
    if (response?.ok !== true) return null;
    return ((await response.json()) as { provider: string | null }).provider;
  }

  static async signOut(): Promise<void> {
    await fetch("/v1/session", { method: "DELETE" }).catch(() => {});
  }

  /** Resolves where the caller is still let in; throws SignedOut where not. */
  async me(signal: AbortSignal): Promise<void> {
    await this.get("me", {}, signal);
  }

  async units(signal: AbortSignal): Promise<Unit[]> {
    return (await this.get<{ units: Unit[] }>("units", { limit: "1000" }, signal)).units;
  }

  /** The stays of a unit; with `open` only those not discharged. */
  async encounters(unit: string, open: boolean, signal: AbortSignal): Promise<Encounter[]> {
    const query = { unit, limit: "1000", ...(open ? { open: "true" } : {}) };
    return (await this.get<{ encounters: Encounter[] }>("encounters", query, signal)).encounters;
  }

  stay(encounter: string, signal: AbortSignal): Promise<Stay> {
    return this.get(path(encounter), {}, signal);
  }

  /** `shift` as "2026-03-04/day". */
  volumes(encounter: string, shift: string, per: "line" | "channel", signal: AbortSignal): Promise<Volumes> {
    return this.get(`${path(encounter)}/volumes`, { shift, by: "hour", per }, signal);
  }

  flows(encounter: string, shift: string, signal: AbortSignal): Promise<Flows> {
    return this.get(`${path(encounter)}/flows`, { shift }, signal);
  }

  /** Running totals at an instant, or now. */
  totals(encounter: string, at: string | null, signal: AbortSignal): Promise<Totals> {
    return this.get(`${path(encounter)}/totals`, at === null ? {} : { at }, signal);
  }

  /** Every hanging that stands, to name what the bags hold. */
  async hangings(encounter: string, signal: AbortSignal): Promise<Hanging[]> {
    const query = { order: "at", kind: "bag-hung", limit: "1000" };
    const answer = await this.get<{ entries: Hanging[] }>(`${path(encounter)}/entries`, query, signal);
    return answer.entries.filter((entry) => entry.recorded.state !== "voided");
  }

  private async get<T>(resource: string, query: Record<string, string>, signal: AbortSignal): Promise<T> {
    const search = new URLSearchParams(query).toString();
    const address = `/v1/${resource}${search === "" ? "" : `?${search}`}`;
    const headers = {
      accept: "application/json",
      ...(this.token === null ? {} : { authorization: `Bearer ${this.token}` }),
      ...(this.attended ? {} : { unattended: "?1" }),
    };
    const response = await fetch(address, { headers, signal }).catch((cause: unknown) => {
      if (signal.aborted) throw cause;
      throw new Refused(words.failed.title, words.failed.noAnswer);
    });
    if (response.status === 401) throw new SignedOut();
    if (!response.ok) throw await refusal(response);
    return (await response.json()) as T;
  }
}

function path(encounter: string): string {
  return `encounters/${encodeURIComponent(encounter)}`;
}

async function refusal(response: Response): Promise<Refused> {
  const problem = (await response.json().catch(() => ({}))) as Problem;
  return new Refused(
    problem.title ?? words.failed.title,
    problem.detail ?? words.failed.status(response.status),
  );
}
