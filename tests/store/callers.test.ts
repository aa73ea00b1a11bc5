/** What is kept of callers: their tokens' hashes, and answers to requests they may repeat. */

import { expect, test } from "vitest";
import type { TokenRecord } from "../../src/store/callers.js";
import type { KeptAnswer } from "../../src/store/store.js";
import { answer, minutes, write } from "./entries.js";
import { openLedger } from "./ledger-file.js";

const tablet: TokenRecord = {
  id: "t-2",
  hash: "aa".repeat(32),
  role: "nurse",
  name: "tablet at bed 4",
  units: ["icu", "surgery"],
  createdAt: minutes(1),
  expiresAt: minutes(90),
  revokedAt: null,
};
const integration: TokenRecord = {
  ...tablet,
  id: "t-1",
  hash: "bb".repeat(32),
  role: "integration",
  units: null,
  expiresAt: null,
};

test("a token is found by its hash alone", async () => {
  const store = await openLedger();
  await store.createToken(tablet);
  await store.createToken(integration);
  expect(await store.tokenByHash(tablet.hash)).toEqual(tablet);
  expect(await store.tokenByHash(integration.hash)).toEqual(integration);
  expect(await store.tokenByHash("cc".repeat(32))).toBeUndefined();
});

test("tokens are listed in order of id", async () => {
  const store = await openLedger();
  await store.createToken(tablet);
  await store.createToken(integration);
  expect(await store.tokens()).toEqual([integration, tablet]);
});

test("two tokens share neither id nor hash", async () => {
  const store = await openLedger();
  await store.createToken(tablet);
  await expect(store.createToken({ ...integration, id: tablet.id })).rejects.toThrow(/token\.id/);
  await expect(store.createToken({ ...integration, hash: tablet.hash })).rejects.toThrow(/token\.hash/);
  expect(await store.tokens()).toEqual([tablet]);
});

const kept: KeptAnswer = {
  scope: "t-2 POST /v1/units",
  key: "again",
  fingerprint: "dd".repeat(32),
  status: 201,
  body: '{"id":"icu"}',
  headers: "{}",
  recordedAt: minutes(3),
};

test("an answer is kept for its scope and key", async () => {
  const store = await openLedger();
  await write(store, [{ write: "kept-answer", answer: kept, forgetBefore: minutes(0) }]);
  const { scope, key } = kept;
  expect(await answer(store, { ask: "kept-answer", scope, key })).toEqual(kept);
  expect(await answer(store, { ask: "kept-answer", scope: "t-1 POST /v1/units", key })).toBeUndefined();
  expect(await answer(store, { ask: "kept-answer", scope, key: "another" })).toBeUndefined();
});

test("an answer that was given is not replaced by a later one", async () => {
  const store = await openLedger();
  await write(store, [{ write: "kept-answer", answer: kept, forgetBefore: minutes(0) }]);
  await expect(
    write(store, [{ write: "kept-answer", answer: { ...kept, status: 409 }, forgetBefore: minutes(0) }]),
  ).rejects.toThrow(expect.objectContaining({ code: "SQLITE_CONSTRAINT_PRIMARYKEY" }));
  expect((await answer(store, { ask: "kept-answer", scope: kept.scope, key: kept.key }))?.status).toBe(201);
});

test("answers that are too old are forgotten as new ones are kept, and none before its time", async () => {
  const store = await openLedger();
  const keep = (minute: number, forgetBefore: number) => {
    const answer = { ...kept, key: `key-${minute}`, recordedAt: minutes(minute) };
    return write(store, [{ write: "kept-answer", answer, forgetBefore: minutes(forgetBefore) }]);
  };
  for (let minute = 1; minute <= 30; minute++) await keep(minute, 0);
  const known = async () => {
    const found: number[] = [];
    for (let minute = 1; minute <= 102; minute++) {
      const asked = { ask: "kept-answer", scope: kept.scope, key: `key-${minute}` } as const;
      if ((await answer(store, asked)) !== undefined) found.push(minute);
    }
    return found;
  };
  await keep(100, 26);
  expect(await known()).toEqual([...Array.from({ length: 20 }, (_, i) => i + 11), 100]);
  await keep(101, 26);
  await keep(102, 26);
  expect(await known()).toEqual([26, 27, 28, 29, 30, 100, 101, 102]);
});
