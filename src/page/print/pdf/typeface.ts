/**
 * A typeface as far as a page has to know it: which characters it has, since a PDF has no other to fall back on, and
 * how wide they are, so that what stands on every page has the room it takes.
 */

import { glyphsOf, tableAt } from "./glyphs.js";

export interface Typeface {
  has(codePoint: number): boolean;
  /** How wide a text is at size 1, without kerning, which only ever makes it narrower by little. */
  width(text: string): number;
}

/** Both weights that sheets are written in. */
export interface Typefaces {
  readonly normal: Typeface;
  readonly bold: Typeface;
}

/** Reads the tables `cmap`, `head`, `hhea` and `hmtx` of an OpenType file; throws where one is missing. */
export function typefaceOf(font: ArrayBuffer): Typeface {
  const view = new DataView(font);
  const glyph = glyphsOf(view);
  const perSize = view.getUint16(tableAt(view, "head") + 18);
  const metrics = view.getUint16(tableAt(view, "hhea") + 34);
  const widths = tableAt(view, "hmtx");
  // The last width told is that of all glyphs after it.
  const advance = (one: number) => view.getUint16(widths + 4 * Math.min(one, metrics - 1)) / perSize;
  return {
    has: (codePoint) => glyph(codePoint) !== 0,
    width: (text) => [...text].reduce((sum, one) => sum + advance(glyph(one.codePointAt(0) ?? 0)), 0),
  };
}

/** How many lines a text takes, broken at spaces, and within words that are longer than a line. */
export function lineCount(text: string, size: number, room: number, { width }: Typeface): number {
  const space = width(" ") * size;
  let [lines, used] = [1, 0];
  for (const word of text.split(/\s+/)) {
    const wide = width(word) * size;
    if (used + wide <= room) {
      used += wide + space;
    } else if (wide <= room) {
      lines += 1;
      used = wide + space;
    } else {
      lines += Math.ceil(wide / room);
      used = (wide % room) + space;
    }
  }
  return lines;
}
