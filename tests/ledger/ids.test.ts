/** Ids that the ledger makes. */

import { expect, it } from "vitest";
import { newUuid } from "../../src/ledger/ids.js";

it("are UUIDs of version 7, each another, however many are made at once", () => {
  const ids = Array.from({ length: 1_000 }, newUuid);
  expect(new Set(ids).size).toBe(1_000);
  // RFC 9562, section 5.7: the version is 7, the variant 10 in binary.
  for (const id of ids)
    expect(id).toMatch(/^[\da-f]{8}-[\da-f]{4}-7[\da-f]{3}-[89ab][\da-f]{3}-[\da-f]{12}$/);
});

it("begin with the time in milliseconds, so that they sort by it", () => {
  const before = Date.now();
  const time = Number.parseInt(newUuid().replace("-", "").slice(0, 12), 16);
  expect(time).toBeGreaterThanOrEqual(before);
  expect(time).toBeLessThanOrEqual(Date.now());
});
