/**
 * Which glyph of a typeface stands for a character, read from the file that the PDF embeds (OpenType, table `cmap`,
 * formats 4 and 12).
 */

/** 0 where there is none. */
export type GlyphOf = (codePoint: number) => number;

/** Throws a RangeError where the file ends too early, an Error where it has no table of Unicode characters. */
export function glyphsOf(view: DataView): GlyphOf {
  const cmap = tableAt(view, "cmap");
  const found = subtables(view, cmap).find(({ format }) => format === 12 || format === 4);
  if (found === undefined) throw new Error("the typeface does not say which characters it has");
  const ranges = found.format === 12 ? groups(view, found.at) : segments(view, found.at);
  return (codePoint) => {
    const range = ranges.find(([first, last]) => first <= codePoint && codePoint <= last);
    return range === undefined ? 0 : range[2] + codePoint - range[0];
  };
}

/** Characters in a row, and the glyph of the first. */
type Range = readonly [first: number, last: number, glyph: number];

/** Where a table of the file begins. */
export function tableAt(view: DataView, wanted: string): number {
  const count = view.getUint16(4);
  for (let index = 0; index < count; index += 1) {
    const record = 12 + index * 16;
    const tag = String.fromCharCode(...[0, 1, 2, 3].map((byte) => view.getUint8(record + byte)));
    if (tag === wanted) return view.getUint32(record + 8);
  }
  throw new Error(`the typeface has no table ${wanted}`);
}

/** Unicode subtables, the widest format first. */
function subtables(view: DataView, cmap: number): { readonly at: number; readonly format: number }[] {
  const count = view.getUint16(cmap + 2);
  const all = Array.from({ length: count }, (_, index) => {
    const record = cmap + 4 + index * 8;
    const at = cmap + view.getUint32(record + 4);
    return { platform: view.getUint16(record), at, format: view.getUint16(at) };
  });
  return all.filter(({ platform }) => platform === 0 || platform === 3).sort((a, b) => b.format - a.format);
}

/** Format 12: groups of code points. */
function groups(view: DataView, at: number): Range[] {
  const count = view.getUint32(at + 12);
  return Array.from({ length: count }, (_, index) => {
    const group = at + 16 + index * 12;
    return [view.getUint32(group), view.getUint32(group + 4), view.getUint32(group + 8)];
  });
}

/** Format 4: segments of the first 65,536 code points, of which single ones may have no glyph. */
function segments(view: DataView, at: number): Range[] {
  const doubled = view.getUint16(at + 6);
  const [ends, starts] = [at + 14, at + 16 + doubled];
  const [deltas, offsets] = [starts + doubled, starts + 2 * doubled];
  const ranges: Range[] = [];
  for (let place = 0; place < doubled; place += 2) {
    const [first, last] = [view.getUint16(starts + place), view.getUint16(ends + place)];
    const [delta, offset] = [view.getUint16(deltas + place), view.getUint16(offsets + place)];
    for (let code = first; code <= last && code !== 0xffff; code += 1) {
      const listed = offset === 0 ? code : view.getUint16(offsets + place + offset + 2 * (code - first));
      const glyph = offset !== 0 && listed === 0 ? 0 : (listed + delta) & 0xffff;
      if (glyph !== 0) ranges.push([code, code, glyph]);
    }
  }
  return ranges;
}
