/**
 * Bodies: JSON in UTF-8 and nothing else. What JSON readers do in silence is refused here, since it
 * would change a fact: bytes that are no UTF-8 are not replaced, and no member of an object is lost to
 * another of the same name.
 */

import { isUtf8 } from "node:buffer";

/** A body that is no JSON; the message is a sentence for the caller. */
export class NotJson extends Error {
  override readonly name = "NotJson";
}

/** The value of a JSON text in UTF-8; throws NotJson for any other, and for an object with a name twice. */
export function parseJson(bytes: Buffer): unknown {
  if (!isUtf8(bytes)) throw new NotJson("The body is not UTF-8.");
  const text = bytes.toString("utf8");
  const value = parsed(text);
  const repeated = repeatedName(text);
  if (repeated !== undefined) {
    throw new NotJson(`The member ${shortened(repeated)} stands twice in one object.`);
  }
  return value;
}

function parsed(text: string): unknown {
  if (text.trim() === "") throw new NotJson("The body is empty.");
  try {
    return JSON.parse(text);
  } catch {
    // The parser's own message repeats a part of the body.
    throw new NotJson("The body is not JSON.");
  }
}

function shortened(name: string): string {
  return name.length <= 80 ? name : `${name.slice(0, 80)}…`;
}

const [QUOTE, BACKSLASH, COLON, OPEN, CLOSE, SPACE] = [...'"\\:{} '].map((c) => c.charCodeAt(0)) as [
  number,
  number,
  number,
  number,
  number,
  number,
];

/** The first name that an object of a valid JSON text has twice, as it is written there. */
function repeatedName(text: string): string | undefined {
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
