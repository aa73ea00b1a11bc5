/** Names that stand twice in one object: JSON readers lose one member to the other in silence. */

const [QUOTE, BACKSLASH, COLON, OPEN, CLOSE, SPACE] = [...'"\\:{} '].map((c) => c.charCodeAt(0)) as [
  number,
  number,
  number,
  number,
  number,
  number,
];

/** The first name that an object of a valid JSON text has twice, as it is written there; undefined where none has. */
export function repeatedName(text: string): string | undefined {
  const open: Set<string>[] = [];
  for (let at = 0; at < text.length; at++) {
    switch (text.charCodeAt(at)) {
      case OPEN:
        open.push(new Set());
        break;
      case CLOSE:
        open.pop();
        break;
      case QUOTE: {
        const end = endOfString(text, at);
        if (isName(text, end + 1)) {
          const written = text.slice(at, end + 1);
          const names = open.at(-1)!;
          // "a" and "\u0061" are one name.
          const name = written.includes("\\") ? (JSON.parse(written) as string) : written.slice(1, -1);
          if (names.has(name)) return written;
          names.add(name);
        }
        at = end;
        break;
      }
    }
  }
  return undefined;
}

/** The closing quote of the string that begins at a quote. */
function endOfString(text: string, start: number): number {
  for (let at = start + 1; ; at++) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) return at;
    if (code === BACKSLASH) at++;
  }
}

/** Whether a string that ends before `at` is the name of a member: a colon follows. */
function isName(text: string, at: number): boolean {
  let next = at;
  while (text.charCodeAt(next) <= SPACE) next++;
  return text.charCodeAt(next) === COLON;
}
