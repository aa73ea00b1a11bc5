/** A name without what people write differently: case, accents, spaces, a unit in brackets, a colon after it. */

export function plain(name: string): string {
  return name
    .normalize("NFD")
    .replace(/\p{Diacritic}/gu, "")
    .toLowerCase()
    .replace(/\(\s*ml\s*\)/, "")
    .replace(/[:.]+\s*$/, "")
    .replace(/\s+/g, " ")
    .trim();
}
