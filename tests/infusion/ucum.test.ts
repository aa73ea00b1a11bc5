/**
 * Units as they are typed on a ward, and our exact table of dose units held against the UCUM library,
 * which knows the standard but computes in floating point.
 */

import { createRequire } from "node:module";
import fc from "fast-check";
import { afterEach, describe, expect, it, vi } from "vitest";
import { isDoseFault } from "../../src/infusion/dose-fault.js";
import { type DoseUnit, parseDoseUnit } from "../../src/infusion/dose-unit.js";
import { isUcum, normaliseUnit } from "../../src/infusion/ucum.js";

const { UcumLhcUtils }: typeof import("@lhncbc/ucum-lhc") = createRequire(import.meta.url)(
  "@lhncbc/ucum-lhc",
);

function read(text: string): DoseUnit {
  const unit = parseDoseUnit(text);
  if (isDoseFault(unit)) throw new Error(`${text}: ${unit.detail}`);
  return unit;
}

function refusal(text: string): string {
  const unit = parseDoseUnit(text);
  if (!isDoseFault(unit)) throw new Error(`${text} was taken for ${unit.code}`);
  expect(unit.code).toBe("dose-unit-unknown");
  return unit.detail;
}

afterEach(() => {
  vi.restoreAllMocks();
});

describe("spellings of the ward", () => {
  it.each([
    ["mcg/kg/min", "ug/kg/min"],
    ["µg/kg/min", "ug/kg/min"],
    ["\u03bcg/kg/min", "ug/kg/min"],
    ["mcg / kg / min", "ug/kg/min"],
    [" mL/hr ", "mL/h"],
    ["ml/h", "mL/h"],
    ["cc/hour", "mL/h"],
    ["MCG/KGS/HR", "ug/kg/h"],
    ["units/hr", "[iU]/h"],
    ["Units/kg/hour", "[iU]/kg/h"],
    ["IU/h", "[iU]/h"],
    ["[IU]/h", "[iU]/h"],
    ["mIU/min", "m[iU]/min"],
    ["milliunits/minute", "m[iU]/min"],
    ["mEq/hr", "meq/h"],
    ["mcg/lb/mins", "ug/[lb_av]/min"],
    ["gm/day", "g/d"],
    ["mg/(kg.hr)", "mg/(kg.h)"],
    ["mg{units}/hr", "mg{units}/h"],
  ])("%j is %j", (typed, ucum) => {
    expect(normaliseUnit(typed)).toBe(ucum);
  });

  it("leaves UCUM as it is, units of no dose too", () => {
    for (const code of ["ug/kg/min", "[iU]", "U/h", "[drp]/min", "10*6.[CFU]", "mg/m2"]) {
      expect(normaliseUnit(code)).toBe(code);
    }
  });

  it.each([
    "MIU/h",
    "mg/24h",
    "bananas",
    "",
    "mg//h",
    "m g",
    "gtt/min",
    "2 mg",
    "2mg",
    "gallon/h",
    "x".repeat(65),
  ])("%j is no unit", (typed) => {
    expect(normaliseUnit(typed)).toBeUndefined();
  });

  it("respells no word that is a UCUM code of something else", () => {
    const twoCodesOfOneUnit = ["l", "dl", "cl", "ml", "ul", "nl", "[IU]", "u[IU]", "m[IU]", "k[IU]", "M[IU]"];
    const words =
      "mcg mcgs mgs gram grams kgs lb lbs unit units milliunit milliunits sec secs mins minute minutes hr hrs hour hours day days";
    const codes = "cc mcL gm gms mcmol Eq mEq uEq mcEq IU mIU kIU";
    const typed = words
      .split(" ")
      .flatMap((word) => [word, word.toUpperCase(), word.charAt(0).toUpperCase() + word.slice(1)]);
    for (const word of [...typed, ...codes.split(" ")]) {
      expect(normaliseUnit(word), word).toBeDefined();
      expect(isUcum(word), word).toBe(false);
    }
    for (const code of twoCodesOfOneUnit) expect(isUcum(code), code).toBe(true);
  });

  it("never fails on, and never logs, what somebody typed", () => {
    const log = vi.spyOn(console, "log");
    const piece = fc.constantFrom(..."mgkhuL[]{}().*/-+0189iU^ \"'\\%~Eeq", "min", "[iU]", "()", "µ", "é");
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 12 }), (pieces) => {
        const text = pieces.join("");
        const ucum = normaliseUnit(text);
        if (ucum !== undefined) expect(normaliseUnit(ucum)).toBe(ucum);
        const unit = parseDoseUnit(text);
        if (!isDoseFault(unit)) expect(unit.code).toBe(ucum);
      }),
      { numRuns: 2_000 },
    );
    expect(log).not.toHaveBeenCalled();
  });
});

describe("the unit of a dose", () => {
  it("takes a dose per weight and minute apart", () => {
    const unit = read("mcg/kg/min");
    expect(unit).toMatchObject({ code: "ug/kg/min", substance: "mass", perWeight: true, perTime: true });
    // 1 ug/kg/min is 60 ug/kg/h: 60 millionths of a gram.
    expect(unit.factor.n * 1_000_000n).toBe(60n * unit.factor.d);
  });

  it.each([
    ["mg", "mass", false, false],
    ["[iU]/kg", "arbitrary-unit", true, false],
    ["M[iU]/d", "arbitrary-unit", false, true],
    ["mmol/h", "amount", false, true],
    ["meq/kg/h", "equivalent", true, true],
    ["mL/kg/h", "volume", true, true],
    ["mL", "volume", false, false],
    ["mg/h/kg", "mass", true, true],
  ])("%s is of %s, per weight %s, per time %s", (text, substance, perWeight, perTime) => {
    expect(read(text)).toMatchObject({ substance, perWeight, perTime });
  });

  it("reads every way UCUM writes one unit", () => {
    const { factor } = read("ug/kg/min");
    for (const text of ["ug/(kg.min)", "ug.kg-1.min-1", "kg-1.ug/min", "(ug)/kg/min", "ug/((kg).(min))"]) {
      const other = read(text).factor;
      expect(other.n * factor.d, text).toBe(factor.n * other.d);
    }
  });

  it("reads a volume per 8 hours, as the HL7 example writes it", () => {
    const { factor } = read("mL/(8.h)");
    expect(factor.n * 8n).toBe(factor.d);
  });

  it("refuses mg/24.h, which UCUM reads from the left: a 24th of a milligram times an hour", () => {
    refusal("mg/24.h");
  });

  it("says to write [iU] where somebody writes U, the enzyme unit", () => {
    expect(refusal("U/h")).toContain("write [iU]");
    expect(refusal("mU/min")).toContain("write m[iU]");
    expect(refusal("kU/kg/h")).toContain("write k[iU]");
  });

  it("sends drops to the drip rate", () => {
    for (const text of ["[drp]/min", "gtt/min", "gtts/min", "drops/min"]) {
      expect(refusal(text)).toContain("drip rate");
    }
  });

  it("tells a UCUM unit of no dose from no UCUM unit", () => {
    // By body surface; a megalitre; a tonne; a concentration; two times; two drugs; a frequency; over zero; powers.
    const codes =
      "mg/m2/h ML/h Mg mg/mL mg/h/min mg.mmol/h /kg kg 24.h mg/kg/kg mg/(0.h) mg{salt}/h mg2/h 8-1.mL/h";
    for (const text of codes.split(" ")) expect(refusal(text), text).toContain("is a UCUM unit");
    for (const text of ["", "bananas/h", "mg/", "(mg/h", "mg/h)", "mg//h", "mg/()", "mg per h", "Mcg/MIN"]) {
      expect(refusal(text), text).toContain("is not a UCUM unit");
    }
  });

  it("shows no more than a line of an endless unit", () => {
    expect(refusal("m".repeat(500)).length).toBeLessThan(200);
  });

  it("agrees with the UCUM library in every amount, weight and time", () => {
    const library = UcumLhcUtils.getInstance();
    const magnitude = (code: string) =>
      library.getSpecifiedUnit(code, "validate").unit?.magnitude_ ?? Number.NaN;
    const amounts: Record<string, string[]> = {
      g: ["pg", "ng", "ug", "mg", "cg", "g"],
      "[iU]": ["u[iU]", "m[iU]", "[iU]", "k[iU]", "M[iU]"],
      mol: ["pmol", "nmol", "umol", "mmol", "mol"],
      eq: ["ueq", "meq", "eq"],
      mL: ["nL", "uL", "mL", "cL", "dL", "L"],
    };
    for (const [base, codes] of Object.entries(amounts)) {
      for (const amount of codes) {
        for (const weight of ["", "/kg", "/g", "/[lb_av]"]) {
          for (const time of ["", "/s", "/min", "/h", "/d", "/wk", "/(8.h)"]) {
            const code = `${amount}${weight}${time}`;
            const { factor } = read(code);
            const inBase = base + (weight && "/kg") + (time && "/h");
            expect(isUcum(code), code).toBe(true);
            const byLibrary = magnitude(code) / magnitude(inBase);
            expect(Number(factor.n) / Number(factor.d) / byLibrary, code).toBeCloseTo(1, 12);
          }
        }
      }
    }
  });
});
