/** Numbers as the trade writes them: the rules against tenfold misreadings. */

import { describe, expect, it } from "vitest";
import { duration, numbersIn, together } from "../../src/page/words/numbers.js";

const { figure, tenths } = numbersIn("en-US");

describe("a volume on the page", () => {
  it.each([
    [5, "5"],
    [0.5, "0.5"],
    [62.5, "62.5"],
    [0, "0"],
    [100, "100"],
    [4.205, "4.205"],
    [0.05, "0.05"],
    [1000, "1,000"],
    [1011.4, "1,011.4"],
    [1234567.8, "1,234,567.8"],
  ])("%d is written %s: no trailing zero, a leading one, commas from a thousand", (volume, text) => {
    expect(figure(volume)).toBe(text);
  });

  it("shows no dust of binary fractions", () => {
    expect(figure(0.1 + 0.2)).toBe("0.3");
    expect(figure(1.9999999)).toBe("2");
  });

  it("writes a negative balance with a minus sign, and no minus before nothing", () => {
    expect(figure(-37.5)).toBe("\u221237.5");
    expect(figure(-0)).toBe("0");
    expect(figure(-0.0001)).toBe("0");
  });

  it("is rounded to a tenth where a device is compared", () => {
    expect(tenths(412.46)).toBe("412.5");
    expect(tenths(-0.04)).toBe("0");
  });
});

describe("a volume in a language with a decimal comma", () => {
  const spanish = numbersIn("es-ES");

  it("has no sign between thousands that could be read as a decimal one", () => {
    expect(spanish.figure(1000)).toBe("1\u202f000");
    expect(spanish.figure(1234567.8)).toBe("1\u202f234\u202f567,8");
    expect(spanish.figure(-0.5)).toBe("\u22120,5");
  });

  it("is written as where it is read: Mexico has a decimal point", () => {
    expect(numbersIn("es-MX").figure(1011.4)).toBe("1,011.4");
  });
});

describe("how long something lasted", () => {
  it.each([
    [20_000, "1 min"],
    [35 * 60_000, "35 min"],
    [60 * 60_000, "1 h"],
    [80 * 60_000, "1 h 20 min"],
  ])("%d ms is %s", (ms, text) => {
    expect(duration(ms)).toBe(text);
  });
});

it("never breaks a line between a number and its unit", () => {
  expect(together("4 mg in 50 mL, 0.9 %")).toBe("4\u00a0mg in 50\u00a0mL, 0.9\u00a0%");
});
