/**
 * Bodies: JSON in UTF-8 and nothing else. What JSON readers do in silence is refused here, since it
 * would change a fact: bytes that are no UTF-8 are not replaced, and no member of an object is lost to
 * another of the same name.
 */

import { isUtf8 } from "node:buffer";
import { repeatedName } from "../wire/repeated.js";

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
