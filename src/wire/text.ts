/**
 * Words on the wire: keys and ids, which the machine compares, and texts, which people read. A text
 * is well-formed Unicode, so that its canonical JSON and its bytes are the same thing.
 */

import { z } from "zod";
import { faultIssue } from "./fault.js";

const KEY = /^[A-Za-z0-9._-]{1,64}$/;

/** A name chosen by the caller, of the form that ids and keys share. */
export const Key = z
  .string()
  .regex(KEY, { error: "must be 1 to 64 letters, digits, dots, underscores or hyphens." })
  .meta({
    id: "Key",
    description: "A short name: 1 to 64 ASCII letters, digits, dots, underscores or hyphens.",
    examples: ["pump-1", "saline-1"],
  });

/** A control character other than a newline, or half of a surrogate pair. */
const UNWRITABLE = /[^\P{Cc}\n]|\p{Surrogate}/u;

/**
 * A text of 1 to `longest` characters (code points, as JSON Schema counts) that is not blank and has no
 * control characters other than newlines.
 */
export function text(longest: number, description: string) {
  return z
    .string()
    .check(({ value, issues }) => {
      if (value.length > longest && [...value].length > longest) {
        issues.push(
          faultIssue(value, "too-long", `must be at most ${longest} characters long.`, { goOn: true }),
        );
      }
      if (UNWRITABLE.test(value)) {
        const detail = "must not contain control characters other than newlines, nor half a surrogate pair.";
        issues.push(faultIssue(value, "wrong-form", detail, { goOn: true }));
      } else if (value.trim() === "") {
        issues.push(faultIssue(value, "wrong-form", "must not be blank.", { goOn: true }));
      }
    })
    .meta({ description, minLength: 1, maxLength: longest });
}

/** The longest text a person may write. */
export const LONGEST_TEXT = 500;

/** Three letters of any script, or two signs of one that writes words with one or two. */
const SAYS_SOMETHING =
  /(?:\p{L}\P{L}*){3}|(?:[\p{sc=Han}\p{sc=Hiragana}\p{sc=Katakana}\p{sc=Hangul}]\P{L}*){2}/u;

/** Words that must say something, and not only be there: a dot is no remark. */
export function sentence(description: string) {
  return words(description)
    .check(({ value, issues }) => {
      if (SAYS_SOMETHING.test(value)) return;
      issues.push(
        faultIssue(value, "wrong-form", "must say something: a few letters at least.", { goOn: true }),
      );
    })
    .meta({
      description: `${description} At most ${LONGEST_TEXT} characters, and a few letters at least.`,
      minLength: 2,
      maxLength: LONGEST_TEXT,
    });
}

/** A text of a person: at most 500 characters. */
export function words(description: string) {
  return text(LONGEST_TEXT, `${description} At most ${LONGEST_TEXT} characters, not blank.`);
}
