/**
 * The spelling of units. UCUM's case-sensitive codes are what the ledger keeps and shows; the usual
 * ward spellings that are not UCUM are understood on the way in and written as UCUM.
 *
 * Invariant: no respelled word is a UCUM code of something else, and none is respelled whose capitals
 * could mean a factor of a thousand million (mIU is a milliunit; MIU might be a million units, so only
 * the former is understood).
 */

import { createRequire } from "node:module";
import type { UcumLhcUtils } from "@lhncbc/ucum-lhc";

/** Longer texts are no unit, and are not given to the library to chew on. */
const LONGEST_UNIT = 64;

/** Words whose capitals carry no meaning, in lower case. */
const WORDS: ReadonlyMap<string, string> = new Map([
  ["mcg", "ug"],
  ["mcgs", "ug"],
  ["mgs", "mg"],
  ["gram", "g"],
  ["grams", "g"],
  ["kgs", "kg"],
  ["lb", "[lb_av]"],
  ["lbs", "[lb_av]"],
  ["unit", "[iU]"],
  ["units", "[iU]"],
  ["milliunit", "m[iU]"],
  ["milliunits", "m[iU]"],
  ["sec", "s"],
  ["secs", "s"],
  ["mins", "min"],
  ["minute", "min"],
  ["minutes", "min"],
  ["hr", "h"],
  ["hrs", "h"],
  ["hour", "h"],
  ["hours", "h"],
  ["day", "d"],
  ["days", "d"],
]);

/**
 * Spellings whose capitals matter (Gm is a gigametre, cC a centicoulomb). UCUM has two codes for the
 * litre and two for the international unit; one of each is kept.
 */
const CODES: ReadonlyMap<string, string> = new Map([
  ["l", "L"],
  ["dl", "dL"],
  ["cl", "cL"],
  ["ml", "mL"],
  ["ul", "uL"],
  ["nl", "nL"],
  ["cc", "mL"],
  ["mcL", "uL"],
  ["gm", "g"],
  ["gms", "g"],
  ["mcmol", "umol"],
  ["Eq", "eq"],
  ["mEq", "meq"],
  ["uEq", "ueq"],
  ["mcEq", "ueq"],
  ["IU", "[iU]"],
  ["mIU", "m[iU]"],
  ["kIU", "k[iU]"],
  ["[IU]", "[iU]"],
  ["u[IU]", "u[iU]"],
  ["m[IU]", "m[iU]"],
  ["k[IU]", "k[iU]"],
  ["M[IU]", "M[iU]"],
]);

/**
 * A unit with every usual spelling in it written as UCUM (`mcg/kg/hr` becomes `ug/kg/h`). What is not
 * understood, and UCUM's remarks in braces, stay as they are. Says nothing of whether it is a unit.
 */
export function respelled(text: string): string {
  return text
    .trim()
    .replace(/\s*\/\s*/g, "/")
    .replace(/[\u00b5\u03bc]/g, "u")
    .replace(
      /\{[^}]*\}|[A-Za-z]*\[[^\]]*\]|[A-Za-z]+/g,
      (word) => CODES.get(word) ?? WORDS.get(word.toLowerCase()) ?? word,
    );
}

/**
 * The UCUM code of a unit as people write it, or undefined where it is no unit. Takes every unit of
 * UCUM, not only those of a dose, since a bag's additive is a fact in whatever unit its label bears.
 */
export function normaliseUnit(text: string): string | undefined {
  if (text.length > LONGEST_UNIT) return undefined;
  const code = respelled(text);
  return isUcum(code) ? code : undefined;
}

/**
 * Whether a text is a case-sensitive UCUM code, as the library judges it. The library writes to the
 * console over some texts that are none; what somebody typed must not end up there, so it is kept quiet.
 */
export function isUcum(code: string): boolean {
  if (code.length > LONGEST_UNIT || !/^[!-~]+$/.test(code) || code.includes("()")) return false;
  const { log } = console;
  console.log = () => {};
  try {
    return library().validateUnitString(code, false).status === "valid";
  } finally {
    console.log = log;
  }
}

let loaded: UcumLhcUtils | undefined;

/** The library takes a fifth of a second to load: it is loaded when first asked, and then kept. */
function library(): UcumLhcUtils {
  if (loaded === undefined) {
    const require = createRequire(import.meta.url);
    const ucum: typeof import("@lhncbc/ucum-lhc") = require("@lhncbc/ucum-lhc");
    loaded = ucum.UcumLhcUtils.getInstance();
  }
  return loaded;
}
