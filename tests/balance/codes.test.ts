/**
 * The LOINC codes of the categories. Published: profiles of the Medical Informatics Initiative's intensive care module
 * (MII), MIMIC's outputevents_to_loinc.csv, a public terminology mapping for emesis.
 */

import { expect, it } from "vitest";
import { codeOf } from "../../src/balance/codes.js";

it.each([
  ["oral", "9000-1"], // MII
  ["enteral-feed", "8953-2"], // MII
  ["urine", "9187-6"], // MII
  ["gastric", "9149-6"], // MIMIC
  ["emesis", "9137-1"], // mapping
  ["stool", "9217-1"], // MII
  ["drain", "9203-1"], // MII
  ["chest-drain", "9129-8"], // MIMIC
  ["blood-loss", "81661-1"], // MII
  ["fluid-removal", "99741-1"], // MII
] as const)("%s is %s, with a check digit that is right", (category, code) => {
  expect(codeOf(category)).toEqual({ system: "http://loinc.org", code });
  expect(checkDigit(code.split("-")[0]!)).toBe(Number(code.split("-")[1]));
});

it.each([
  "iv-fluid",
  "iv-medication",
  "iv-push",
  "iv-flush",
  "blood-product",
  "parenteral-nutrition",
  "enteral-water",
  "other-intake",
  "other-output",
  null,
] as const)("%s has none", (category) => {
  expect(codeOf(category)).toBeNull();
});

/** LOINC's check digit (LOINC Users' Guide, appendix on the Mod 10 algorithm). */
function checkDigit(number: string): number {
  const digits = [...number].reverse().map(Number);
  const odd = digits.filter((_, i) => i % 2 === 0).join("");
  const even = digits.filter((_, i) => i % 2 === 1).join("");
  const doubled = String(2 * Number(odd));
  const sum = [...(even + doubled)].reduce((all, digit) => all + Number(digit), 0);
  return (10 - (sum % 10)) % 10;
}
