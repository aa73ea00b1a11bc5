/** A volume as people write it in a cell, in mL; what could be read in two ways is not guessed at. */

/** Why a cell is no volume. */
export type VolumeFault = "not-a-number" | "two-readings" | "decimals" | "other-unit";

export type CellVolume =
  | { readonly volume: number | null; readonly fault?: undefined }
  | { readonly fault: VolumeFault };

const EMPTY = /^[-–—]?$/;
const MILLILITRES = /\s*ml$/i;
const OTHER_UNIT = /\d\s*(l|dl|cl|cc|oz|g|kg)$/i;

/** Null for a cell that was left empty or struck through with a dash. */
export function volumeIn(text: string): CellVolume {
  const written = text.trim();
  if (EMPTY.test(written)) return { volume: null };
  if (OTHER_UNIT.test(written)) return { fault: "other-unit" };
  const number = written
    .replace(MILLILITRES, "")
    .replace(/^[\u2212–]/, "-")
    .replace(/^\+/, "");
  // Three digits after one comma or point: thousands to some, thousandths to others; not after a bare 0.
  if (/^-?[1-9]\d{0,2}[.,]\d{3}$/.test(number)) return { fault: "two-readings" };
  const plain = withoutThousands(number);
  if (!/^-?\d+(\.\d+)?$/.test(plain)) return { fault: "not-a-number" };
  if (/\.\d{4,}$/.test(plain)) return { fault: "decimals" };
  return { volume: Number(plain) };
}

/** "1,234.5", "1.234,5", "1 234,5" and "230,5" with a point for the decimals and nothing between thousands. */
function withoutThousands(number: string): string {
  const spaced = number.replace(/(\d)[ \u00a0\u202f](?=\d{3}(\D|$))/g, "$1");
  if (/^-?\d{1,3}(,\d{3})+(\.\d+)?$/.test(spaced)) {
    // A bare 0 before the comma is a decimal: no thousands begin with it.
    return /^-?0,\d{3}$/.test(spaced) ? spaced.replace(",", ".") : spaced.replaceAll(",", "");
  }
  if (/^-?\d{1,3}(\.\d{3})+,\d+$/.test(spaced) || /^-?\d{1,3}(\.\d{3}){2,}$/.test(spaced)) {
    return spaced.replaceAll(".", "").replace(",", ".");
  }
  return /^-?\d+,\d+$/.test(spaced) ? spaced.replace(",", ".") : spaced;
}
