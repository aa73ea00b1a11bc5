/**
 * Whether two names that people wrote mean the same thing. Case, spaces, accents and punctuation say nothing, and a
 * letter may be wrong in a longer word; figures in a name say everything, since 5 % is not 10 %.
 */

/** Shorter words have to be the same: "tea" is not "pea". */
const LONG_ENOUGH = 4;
/** Words from this length on may have two letters wrong. */
const LONG = 9;

/** The name without what says nothing. A point or comma between two digits stays: 0.9 is not 09. */
export function folded(name: string): string {
  return wordsOf(name).join("");
}

/** How many letters are wrong in one name if the other was meant; null where they are not that near. */
export function lettersWrong(written: string, meant: string): number | null {
  const [a, b] = [wordsOf(written), wordsOf(meant)];
  if (a.join("") === b.join("")) return 0;
  if (a.length !== b.length) return null;
  let wrong = 0;
  for (const [i, word] of a.entries()) {
    const distance = editsBetween(word, b[i]!);
    if (distance > mayBeWrong(word, b[i]!)) return null;
    wrong += distance;
  }
  return wrong;
}

function mayBeWrong(a: string, b: string): number {
  const length = Math.min(a.length, b.length);
  if (length < LONG_ENOUGH || /\d/.test(a + b)) return 0;
  return length < LONG ? 1 : 2;
}

/** The words of a name, without what says nothing. */
export function wordsOf(name: string): string[] {
  return name
    .normalize("NFKD")
    .replaceAll(/\p{M}|['’`´]/gu, "")
    .toLowerCase()
    .replaceAll(/(?<=\d),(?=\d)/g, ".")
    .split(/(?:[^\p{L}\p{N}%.]|\.(?!\d)|(?<!\d)\.)+/u)
    .filter((word) => word !== "");
}

/** The fewest letters to be put in, left out, changed or swapped with the next. */
export function editsBetween(a: string, b: string): number {
  let before: number[] = [];
  let above = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const changed = above[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      let fewest = Math.min(changed, above[j]! + 1, row[j - 1]! + 1);
      const areSwapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (areSwapped) fewest = Math.min(fewest, before[j - 2]! + 1);
      row.push(fewest);
    }
    [before, above] = [above, row];
  }
  return above[b.length]!;
}
