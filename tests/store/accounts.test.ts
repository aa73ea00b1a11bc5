/** What is kept of people who sign in: accounts by their names, sessions by the hashes of their secrets. */

import { expect, test } from "vitest";
import type { AccountRecord } from "../../src/store/callers.js";
import { minutes } from "./entries.js";
import { openLedger } from "./ledger-file.js";

const nurse: AccountRecord = {
  id: "a-1",
  username: "nurse",
  name: "Imaginary Nurse",
  role: "nurse",
  units: ["icu", "surgery"],
  password: "$scrypt$…",
  active: true,
  createdAt: minutes(1),
};
const office: AccountRecord = { ...nurse, id: "a-2", username: "office", units: null, active: false };

test("an account is found by its username and its id, and listed by username", async () => {
  const { accounts } = await openLedger();
  await accounts.add(office);
  await accounts.add(nurse);
  expect(await accounts.byUsername("nurse")).toEqual(nurse);
  expect(await accounts.byId("a-2")).toEqual(office);
  expect(await accounts.byUsername("Nurse")).toBeUndefined();
  expect(await accounts.page("", 9)).toEqual([nurse, office]);
  expect(await accounts.page("nurse", 9)).toEqual([office]);
  expect(await accounts.page("", 1)).toEqual([nurse]);
});

test("two accounts share neither id nor username", async () => {
  const { accounts } = await openLedger();
  await accounts.add(nurse);
  await expect(accounts.add({ ...office, id: "a-1" })).rejects.toThrow(/account\.id/);
  await expect(accounts.add({ ...office, username: "nurse" })).rejects.toThrow(/account\.username/);
});

test("what changes of an account leaves its name and when it was made", async () => {
  const { accounts } = await openLedger();
  await accounts.add(nurse);
  await accounts.change({
    ...nurse,
    username: "other",
    createdAt: minutes(9),
    role: "charge-nurse",
    units: [],
  });
  expect(await accounts.byId("a-1")).toEqual({ ...nurse, role: "charge-nurse", units: [] });
});

test("a session is found with its account as it is now, and ends alone, with its account's, or unused", async () => {
  const { accounts, sessions } = await openLedger();
  await accounts.add(nurse);
  await accounts.add(office);
  const session = { hash: "h-1", account: "a-1", createdAt: minutes(2), usedAt: minutes(3) };
  await sessions.add(session);
  await sessions.add({ ...session, hash: "h-2", usedAt: minutes(5) });
  await sessions.add({ ...session, hash: "h-3", account: "a-2" });
  await accounts.change({ ...nurse, active: false });
  expect(await sessions.byHash("h-1")).toEqual({ ...session, of: { ...nurse, active: false } });
  await sessions.used("h-1", minutes(4));
  expect((await sessions.byHash("h-1"))?.usedAt).toBe(minutes(4));
  const left = async () => {
    const found = await Promise.all(["h-1", "h-2", "h-3"].map((hash) => sessions.byHash(hash)));
    return found.flatMap((one) => one?.hash ?? []);
  };
  await sessions.endUnused(minutes(4));
  expect(await left()).toEqual(["h-1", "h-2"]);
  await sessions.end("h-1");
  expect(await left()).toEqual(["h-2"]);
  await sessions.endOf("a-1");
  expect(await left()).toEqual([]);
});
