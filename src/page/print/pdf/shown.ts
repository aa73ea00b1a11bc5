/**
 * A text as the PDF can show it. What its typeface has no shape for, and what is written from right to left, which
 * the library would put the wrong way round, becomes a box, and is told, so that nothing vanishes silently.
 */

import type { Typeface } from "./typeface.js";

export const BOX = "\u25a1";

export interface Shown {
  readonly text: string;
  /** The characters that became boxes, in order. */
  readonly lost: readonly string[];
}

/** Without a shape of their own: joiners, marks of direction, variants. */
const INVISIBLE = /\p{Default_Ignorable_Code_Point}/u;

/** The scripts that Unicode has from right to left, those in everyday use. */
const FROM_THE_RIGHT =
  /[\p{Script=Arabic}\p{Script=Hebrew}\p{Script=Nko}\p{Script=Syriac}\p{Script=Thaana}]/u;

export function shownWith(has: Typeface["has"]): (text: string) => Shown {
  return (text) => {
    const lost: string[] = [];
    const characters = [...text.normalize("NFC")].filter((one) => !INVISIBLE.test(one));
    const shown = characters.map((one) => {
      if (/\s/u.test(one) || (has(one.codePointAt(0) ?? 0) && !FROM_THE_RIGHT.test(one))) return one;
      lost.push(one);
      return BOX;
    });
    return { text: shown.join(""), lost };
  };
}

/** "U+738B U+5C0F": each character once, for whoever has to look it up. */
export function points(lost: readonly string[]): string {
  const codes = lost.map((one) => (one.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0"));
  return [...new Set(codes)].map((code) => `U+${code}`).join(" ");
}
