/**
 * UCUM's grammar of products, without its units: a text is split into factors above and below the line.
 * Invariant: what is not of this grammar (a remark in braces, a power other than 1 and -1) has no
 * factors at all, so nothing is ever read past.
 */

/** One factor of a unit: a code or a whole number, above (1) or below (-1) the line. */
export interface Term {
  readonly code: string;
  readonly power: 1 | -1;
}

/** An opening parenthesis; or a number or a code with its power, what closes after it, and what follows. */
const TOKEN = /(\()|(\d+(?![+-])|[A-Za-z]*\[\w+\]|[A-Za-z]+)(\+?1|-1)?(\)*)([./]|$)/y;

/**
 * The factors of a unit by UCUM's grammar: a slash turns over the next factor only, so `mg/24.h` is
 * (mg/24)·h, and a minus turns over a power. Undefined where the text is none of this.
 */
export function termsOf(code: string): Term[] | undefined {
  const terms: Term[] = [];
  const outer: Term["power"][] = [];
  let inside: Term["power"] = 1;
  let next: Term["power"] = 1;
  let operator = ".";
  TOKEN.lastIndex = 0;
  while (operator !== "") {
    const found = TOKEN.exec(code);
    if (found === null) return undefined;
    const [, opening, word = "", power, closing = "", following = ""] = found;
    if (opening !== undefined) {
      outer.push(inside);
      inside = next;
      continue;
    }
    if (closing.length > outer.length) return undefined;
    terms.push({ code: word, power: power === "-1" ? turned(next) : next });
    for (const _ of closing) inside = outer.pop() as Term["power"];
    operator = following;
    next = operator === "/" ? turned(inside) : inside;
  }
  return outer.length === 0 ? terms : undefined;
}

function turned(power: Term["power"]): Term["power"] {
  return power === 1 ? -1 : 1;
}
