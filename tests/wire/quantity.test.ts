/** Numbers on the wire: judged on their shortest decimal form, exact, never rounded. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parse } from "../../src/wire/parse.js";
import {
  Amount,
  decimalsOf,
  LabelVolume,
  microlitres,
  millilitres,
  RateNumber,
  rate,
  SignedVolume,
  scaled,
  Volume,
} from "../../src/wire/quantity.js";

const codesOf = (schema: Parameters<typeof parse>[0], value: unknown) =>
  parse(schema, value).faults?.map(({ code }) => code) ?? [];

describe("the decimals of a number", () => {
  it.each([
    [75, 0],
    [0.1, 1],
    [162.5, 1],
    [0.125, 3],
    [-0.125, 3],
    [-0, 0],
    [0.1 + 0.2, 17],
    [1e-7, 7],
    [1.5e-7, 8],
    [1e21, 0],
    [1.25e21, 0],
    [1e300, 0],
    [123456789012.34, 2],
  ])("%d has %i", (value, decimals) => {
    expect(decimalsOf(value)).toBe(decimals);
  });
});

describe("a volume in whole microlitres", () => {
  it.each([
    [0, 0],
    [0.001, 1],
    [1.005, 1_005],
    [0.3, 300],
    [162.5, 162_500],
    [99_999.999, 99_999_999],
    [100_000, 100_000_000],
    [-20, -20_000],
    [-0.05, -50],
  ])("%d mL is %i µL", (millilitre, expected) => {
    expect(microlitres(millilitre)).toBe(expected);
  });

  it("comes back as it was charted, whatever thousandth of a millilitre it is", () => {
    fc.assert(
      fc.property(fc.integer({ min: -100_000_000, max: 100_000_000 }), (thousandths) => {
        const text = decimalText(thousandths, 3);
        expect(microlitres(Number(text))).toBe(thousandths);
        expect(String(millilitres(thousandths))).toBe(text);
      }),
    );
  });

  it("keeps amounts of drug to the millionth", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1_000_000_000_000_000 }), (millionths) => {
        expect(scaled(Number(decimalText(millionths, 6)), 6)).toBe(millionths);
      }),
    );
  });

  it("has no negative zero", () => {
    expect(Object.is(microlitres(-0), 0)).toBe(true);
  });

  it.each([0.0001, 1e-7, 0.1 + 0.2, 1e21, Number.NaN, Number.POSITIVE_INFINITY])(
    "throws for %d mL",
    (value) => {
      expect(() => microlitres(value)).toThrow(RangeError);
    },
  );

  it("throws for a rate that is not above 0", () => {
    expect(() => rate(0)).toThrow(RangeError);
    expect(rate(12.5)).toBe(12_500);
  });
});

describe("a number in a body", () => {
  it.each([
    ["a volume of 0 mL", Volume, 0, []],
    ["a volume of 100,000 mL", Volume, 100_000, []],
    ["a volume a microlitre beyond", Volume, 100_000.001, ["out-of-range"]],
    ["a volume below 0", Volume, -0.001, ["out-of-range"]],
    ["a tenth of a microlitre", Volume, 0.0001, ["too-many-decimals"]],
    ["a float that is not what it seems", Volume, 0.1 + 0.2, ["too-many-decimals"]],
    ["a number that prints with an exponent", Volume, 1e-7, ["too-many-decimals"]],
    ["a number beyond all measure", Volume, 1e21, ["out-of-range"]],
    ["a number that JSON reads as infinite", Volume, JSON.parse("1e400"), ["out-of-range"]],
    ["no number at all", Volume, Number.NaN, ["out-of-range"]],
    ["both too small and too fine", Volume, -0.0001, ["out-of-range", "too-many-decimals"]],
    ["a text", Volume, "75", ["wrong-type"]],
    ["null", Volume, null, ["wrong-type"]],
    ["a label volume of 0", LabelVolume, 0, ["out-of-range"]],
    ["a rate of 0", RateNumber, 0, ["out-of-range"]],
    ["the slowest rate", RateNumber, 0.001, []],
    ["a change of -100,000 mL", SignedVolume, -100_000, []],
    ["a change beyond that", SignedVolume, -100_000.5, ["out-of-range"]],
    ["a millionth of a unit", Amount, 0.000001, []],
    ["a ten-millionth", Amount, 0.0000001, ["too-many-decimals"]],
    ["a thousand million units", Amount, 1_000_000_000, []],
  ])("%s", (_, schema, value, codes) => {
    expect(codesOf(schema, value)).toEqual(codes);
  });
});

/** `whole` divided by 10^places, written down by moving the point, without arithmetic on fractions. */
function decimalText(whole: number, places: number): string {
  const digits = String(Math.abs(whole)).padStart(places + 1, "0");
  const text = `${digits.slice(0, -places)}.${digits.slice(-places)}`.replace(/\.?0+$/, "");
  return whole < 0 ? `-${text}` : text;
}
