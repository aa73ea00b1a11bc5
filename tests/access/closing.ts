/**
 * What every story of requests ends with, so that no kind of deed is left to chance: each by somebody who may do it
 * whatever came before, among them a move over what was signed, a signature anew, an emergency and an answer broken off.
 */

import { type AddressInfo, connect } from "node:net";
import { iso } from "../ledger/deeds.js";
import type { Json } from "../ledger/stay.js";
import type { Ward } from "../rest/ward.js";

const STAY = "/v1/encounters/stay-1";
const MINUTE = 60_000;

export interface Step {
  readonly name: string;
  /** Minutes after the step before. */
  readonly later: number;
  /** Who does it, by the unit the patient is in. */
  readonly as: (unit: string) => string;
  /** What is asked; undefined where there is nothing to do it to. */
  readonly asks: (ward: Ward, unit: string) => Promise<Asked | undefined>;
  /** Whether it is another unit's time, and must be refused. */
  readonly refused?: true;
}

export interface Asked {
  readonly method: "GET" | "POST" | "PATCH";
  readonly path: string;
  readonly body?: unknown;
  /** Whoever asks goes away before the end of the answer. */
  readonly brokenOff?: true;
}

const other = (unit: string) => (unit === "east" ? "west" : "east");
const everywhere = () => "nurse";

async function read(ward: Ward, path: string): Promise<Json> {
  return (await ward.done("GET", STAY + path, { as: "charge-nurse" })).body;
}

const drink = (ward: Ward, id: string, ago: number) => ({
  id,
  kind: "intake-measured",
  at: iso(ward.now - ago * MINUTE),
  category: "oral",
  volume: 120,
});

const records =
  (entries: (ward: Ward) => readonly object[]) =>
  async (ward: Ward): Promise<Asked> => ({
    method: "POST",
    path: `${STAY}/entries?queued=true`,
    body: { entries: entries(ward) },
  });

const changes = (body: (ward: Ward, unit: string) => object) => async (ward: Ward, unit: string) =>
  ({ method: "PATCH", path: STAY, body: body(ward, unit) }) as const;

async function signing(ward: Ward): Promise<Asked | undefined> {
  const { shifts } = await read(ward, "");
  const path = `/shifts/${shifts[0].date}/${shifts[0].name}`;
  const { toSign } = await read(ward, path);
  if (toSign === null) return undefined;
  const body = { digest: toSign.digest, to: toSign.to, remark: "Looked at." };
  return { method: "POST", path: `${STAY}${path}/signature`, body };
}

async function acknowledging(ward: Ward): Promise<Asked | undefined> {
  const [one] = (await read(ward, "/findings?state=open")).findings;
  if (one === undefined) return undefined;
  const path = `${STAY}/findings/${encodeURIComponent(one.id)}/acknowledgement`;
  return { method: "POST", path, body: { reason: "Seen at the bedside." } };
}

async function keeping(ward: Ward): Promise<Asked> {
  const span = { start: iso(ward.now - 20 * MINUTE), end: iso(ward.now - 10 * MINUTE) };
  const figures = [{ row: { category: "oral" }, volume: 40, ...span }];
  return { method: "POST", path: `${STAY}/charts`, body: { id: "last-sheet", figures } };
}

export const CLOSING: readonly Step[] = [
  // Taken back where the story has ended the stay; else it cannot be, and is refused.
  { name: "stay after all", later: 1, as: everywhere, asks: changes(() => ({ dischargedAt: null })) },
  { name: "chart", later: 90, as: everywhere, asks: records((ward) => [drink(ward, "last", 5)]) },
  {
    name: "amend",
    later: 1,
    as: everywhere,
    asks: records((ward) => {
      const { id: _, ...replacement } = drink(ward, "", 10);
      return [{ id: "last-amended", kind: "entry-amended", entry: "last", reason: "Earlier.", replacement }];
    }),
  },
  {
    name: "void",
    later: 1,
    as: everywhere,
    asks: records(() => [{ id: "v", kind: "entry-voided", entry: "last-amended", reason: "No." }]),
  },
  { name: "sign", later: 30, as: everywhere, asks: signing },
  {
    name: "move after a signature",
    later: 1,
    as: everywhere,
    asks: changes((ward, unit) => ({ move: { unit: other(unit), at: iso(ward.now - 15 * MINUTE) } })),
  },
  { name: "chart late", later: 1, as: everywhere, asks: records((ward) => [drink(ward, "late", 25)]) },
  { name: "sign again", later: 1, as: everywhere, asks: signing },
  {
    name: "take over what another unit signed",
    later: 1,
    as: (unit) => `nurse@${unit}`,
    asks: changes((ward, unit) => ({ move: { unit, at: iso(ward.now - 25 * MINUTE) } })),
    refused: true,
  },
  {
    name: "discharge from another unit's time",
    later: 1,
    as: (unit) => `nurse@${unit}`,
    asks: changes((ward) => ({ discharge: { at: iso(ward.now - 25 * MINUTE) } })),
    refused: true,
  },
  { name: "acknowledge", later: 1, as: everywhere, asks: acknowledging },
  { name: "keep a chart", later: 1, as: () => "charge-nurse", asks: keeping },
  {
    name: "settle",
    later: 1,
    as: () => "administrator",
    asks: async (ward, unit) => ({
      method: "PATCH",
      path: `/v1/units/${unit}`,
      body: { effectiveFrom: iso(ward.now - 60 * MINUTE), settings: { precision: 1 } },
    }),
  },
  { name: "another bed", later: 1, as: () => "administrator", asks: changes(() => ({ bed: "9" })) },
  {
    name: "in an emergency",
    later: 1,
    as: (unit) => `charge-nurse@${other(unit)}`,
    asks: async () => ({ method: "POST", path: `${STAY}/emergency-access`, body: { reason: "Arrest." } }),
  },
  {
    name: "chart in an emergency",
    later: 1,
    as: (unit) => `charge-nurse@${other(unit)}`,
    asks: records((ward) => [drink(ward, "at-the-arrest", 0)]),
  },
  {
    name: "break off",
    later: 1,
    as: () => "integration",
    asks: async () => ({ method: "GET", path: `${STAY}/export`, brokenOff: true }),
  },
  {
    name: "discharge",
    later: 1,
    as: (unit) => `nurse@${unit}`,
    asks: changes((ward) => ({ discharge: { at: iso(ward.now) } })),
  },
  {
    name: "stay after a discharge",
    later: 1,
    as: (unit) => `nurse@${unit}`,
    asks: changes(() => ({ dischargedAt: null })),
  },
];

/** Asks and goes away: the answer has begun, and nobody waits for the end of it. */
export async function breakOff(ward: Ward, as: string, path: string): Promise<void> {
  if (!ward.app.server.listening) await ward.app.listen({ host: "127.0.0.1", port: 0 });
  const { port } = ward.app.server.address() as AddressInfo;
  const socket = connect(port, "127.0.0.1");
  const gone = new Promise((resolve) => socket.once("close", resolve));
  socket.once("data", () => socket.resetAndDestroy());
  socket.write(`GET ${path} HTTP/1.1\r\nhost: x\r\nauthorization: Bearer ${ward.token(as)}\r\n\r\n`);
  await gone;
}
