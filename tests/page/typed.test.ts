/** Numbers as they are typed: what cannot be is not taken, and it is said why. */

import { describe, expect, it } from "vitest";
import { newId } from "../../src/page/api/new-id.js";
import { asTyped, numberTyped, typing, typingTime, VOLUME } from "../../src/page/words/typed.js";

/** What a field holds after these keys, one by one. */
function keyed(keys: string, decimal = ".", limits = VOLUME): string {
  return [...keys].reduce((text, key) => typing(text, text + key, decimal, limits).text, "");
}

describe("a number that is typed", () => {
  it.each([
    ["62.5", "62.5", 62.5],
    [".5", "0.5", 0.5],
    ["007", "7", 7],
    ["0", "0", 0],
    ["0.05", "0.05", 0.05],
    ["100000", "100000", 100_000],
    ["12,5", "12.5", 12.5],
  ])("%s is held as %s", (keys, text, value) => {
    expect(keyed(keys)).toBe(text);
    expect(numberTyped(keyed(keys), ".")).toBe(value);
  });

  it("has the decimal sign of the language, whichever key was pressed", () => {
    expect(keyed("62.5", ",")).toBe("62,5");
    expect(numberTyped("62,5", ",")).toBe(62.5);
    expect(asTyped(62.5, ",")).toBe("62,5");
  });

  it("takes nothing that it cannot be, and says why", () => {
    expect(typing("62.5", "62.5.", ".", VOLUME)).toEqual({ text: "62.5", notTaken: "sign" });
    expect(typing("0.125", "0.1255", ".", VOLUME)).toEqual({ text: "0.125", notTaken: "decimals" });
    expect(typing("10000", "100001", ".", VOLUME)).toEqual({ text: "10000", notTaken: "most" });
    expect(typing("5", "5.", ".", { most: 10, decimals: 0 })).toEqual({ text: "5", notTaken: "sign" });
    expect(typing("5", "5e", ".", VOLUME)).toEqual({ text: "5", notTaken: null });
  });

  it("is none before there is a digit", () => {
    expect(numberTyped("", ".")).toBeNull();
    expect(numberTyped("0.", ".")).toBe(0);
  });
});

it("writes a clock time as its digits are typed, and takes none that no clock shows", () => {
  const time = (keys: string) => [...keys].reduce((text, key) => typingTime(text, text + key), "");
  expect(time("0510")).toBe("05:10");
  expect(time("05:10")).toBe("05:10");
  expect(time("05")).toBe("05");
  expect(time("2359")).toBe("23:59");
  expect(time("24")).toBe("2");
  expect(time("1277")).toBe("12");
  expect(typingTime("05:1", "05:")).toBe("05");
});

it("makes ids that are UUIDs of version 7, in the order in which they are made", () => {
  const ids = [1, 2, 3].map((at) => newId(Date.parse("2026-03-04T18:46:00Z") + at));
  for (const id of ids)
    expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  expect([...ids].sort()).toEqual(ids);
  expect(new Set(ids).size).toBe(3);
});
