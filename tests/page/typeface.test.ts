/** Which characters the typeface of the PDF has, how wide they are, and what becomes of those it has not. */

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { points, shownWith } from "../../src/page/print/pdf/shown.js";
import { lineCount, typefaceOf } from "../../src/page/print/pdf/typeface.js";

const FOLDER = new URL("../../node_modules/dejavu-fonts-ttf/ttf/", import.meta.url);

function fileOf(name: string): ArrayBuffer {
  const { buffer, byteOffset, byteLength } = readFileSync(new URL(name, FOLDER));
  return buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer;
}

const face = typefaceOf(fileOf("DejaVuSansCondensed.ttf"));
const { has } = face;
const show = shownWith(has);

describe("the typeface", () => {
  // What the typeface's own list of its characters (unicover.txt) says of whole blocks.
  it("has all letters of Latin, Greek and Cyrillic, and the signs that sheets use", () => {
    for (const [first, last] of [
      [0x20, 0x7e],
      [0xa1, 0x17f],
      [0x391, 0x3a1],
      [0x3a3, 0x3ce],
      [0x400, 0x45f],
    ]) {
      for (let code = first!; code <= last!; code += 1) expect(has(code), code.toString(16)).toBe(true);
    }
    for (const sign of "−–…“”«»□") expect(has(sign.codePointAt(0)!), sign).toBe(true);
  });

  it("has no Chinese, no Devanagari, and nothing beyond what there is", () => {
    for (const sign of "王明ह") expect(has(sign.codePointAt(0)!), sign).toBe(false);
    expect(has(0x10ffff)).toBe(false);
  });

  it("says the same in either of its tables", () => {
    // A smaller relative of it has only the table of the first 65,536 characters.
    const small = fileOf("DejaVuSans-ExtraLight.ttf");
    const view = new DataView(small);
    const cmapAt = [...Array(view.getUint16(4)).keys()]
      .map((index) => 12 + index * 16)
      .find((record) => view.getUint32(record) === 0x636d6170)!;
    const cmap = view.getUint32(cmapAt + 8);
    const both = typefaceOf(small).has;
    const formats = [...Array(view.getUint16(cmap + 2)).keys()].map((index) => cmap + 4 + index * 8);
    // Without its wide table it falls back on the narrow one.
    for (const record of formats) {
      if (view.getUint16(cmap + view.getUint32(record + 4)) === 12) view.setUint16(record, 1);
    }
    const narrow = typefaceOf(small).has;
    for (let code = 0x20; code < 0xfffe; code += 1) expect(narrow(code), code.toString(16)).toBe(both(code));
  });

  it("is refused where it does not say which characters it has", () => {
    expect(() => typefaceOf(new ArrayBuffer(64))).toThrow("no table cmap");
  });
});

describe("lines", () => {
  it("are as long as the widths that the typeface's own table has", () => {
    // Of 2,048 units a space has 585, "M" 1,590, any figure 1,172: read off by another library (fontkit).
    expect(face.width(" ") * 2048).toBeCloseTo(585, 3);
    expect(face.width("M") * 2048).toBeCloseTo(1590, 3);
    expect(face.width("1234567890") * 2048).toBeCloseTo(11720, 3);
  });

  it("break at spaces, and within words that no line can hold", () => {
    const wide = face.width("MMMM") * 10;
    expect(lineCount("MMMM", 10, wide, face)).toBe(1);
    expect(lineCount("MMMM MMMM", 10, wide, face)).toBe(2);
    expect(lineCount("M MM MMM", 10, wide, face)).toBe(2);
    expect(lineCount("M".repeat(11), 10, wide, face)).toBeGreaterThanOrEqual(3);
    expect(lineCount("", 10, wide, face)).toBe(1);
  });
});

describe("a text", () => {
  it("stays what it is where the typeface has all of it", () => {
    for (const text of ["José Ñandú", "Ελένη Παπαδοπούλου", "Наталья Щербакова", "Łukasz Đurić"]) {
      expect(show(text)).toEqual({ text, lost: [] });
    }
  });

  it("is put together where accents came apart from their letters", () => {
    expect(show("Jose\u0301").text).toBe("Jos\u00e9");
  });

  it("has a box for each character that cannot be shown, and says which", () => {
    expect(show("王小明 Wang")).toEqual({ text: "□□□ Wang", lost: ["王", "小", "明"] });
    expect(points(show("王小王").lost)).toBe("U+738B U+5C0F");
    expect(points(show("\u{20000}").lost)).toBe("U+20000");
  });

  it("has boxes for what is written from right to left, though the typeface has its letters", () => {
    expect(has("ש".codePointAt(0)!) || has("م".codePointAt(0)!)).toBe(true);
    expect(show("שרה").text).toBe("□□□");
    expect(show("مريم").lost).toHaveLength(4);
  });

  it("loses marks that turn the direction round without a trace, since they have no shape", () => {
    expect(show("P-\u202e12\u200b").text).toBe("P-12");
  });
});
