/** Bodies: what is JSON in UTF-8, and what a JSON reader would have taken in silence. */

import { describe, expect, it } from "vitest";
import { NotJson, parseJson } from "../../src/rest/json.js";

const parse = (text: string) => parseJson(Buffer.from(text, "utf8"));

function fault(body: string | Buffer): string {
  try {
    parseJson(Buffer.isBuffer(body) ? body : Buffer.from(body, "utf8"));
  } catch (error) {
    if (error instanceof NotJson) return error.message;
    throw error;
  }
  return "none";
}

describe("a body", () => {
  it("is read as JSON reads it", () => {
    const text = '{"a":[{"b":1},{"b":2}],"c":{"a":"{\\"a\\":1,\\"a\\":2}"},"":null,"é":"\\u00e9"}';
    expect(parse(text)).toEqual({ a: [{ b: 1 }, { b: 2 }], c: { a: '{"a":1,"a":2}' }, "": null, é: "é" });
    expect(parse(' "a" ')).toBe("a");
  });

  it.each<[string, string | Buffer, string]>([
    ["nothing", "", "The body is empty."],
    ["white space", " \n\t", "The body is empty."],
    ["half an object", '{"entries":[', "The body is not JSON."],
    ["two values", "{}{}", "The body is not JSON."],
    ["a byte order mark", "\ufeff{}", "The body is not JSON."],
    ["a number that is none", '{"rate":NaN}', "The body is not JSON."],
    ["Latin-1", Buffer.from('{"name":"Jos\xe9"}', "latin1"), "The body is not UTF-8."],
    ["half a surrogate pair in bytes", Buffer.from([0x22, 0xed, 0xa0, 0x80, 0x22]), "The body is not UTF-8."],
  ])("is not %s", (_, body, message) => {
    expect(fault(body)).toBe(message);
  });

  it.each([
    ['{"rate":75,"rate":80}', '"rate"'],
    ['{"a":{"x":1},"b":[{"y":1,"z":{},"y":2}]}', '"y"'],
    // The same name, written once plainly and once escaped.
    ['{"rate":75,"r\\u0061te":80}', '"r\\u0061te"'],
    ['{"a\\"b" : 1, "a\\"b"\n: 2}', '"a\\"b"'],
    ['{"__proto__":1,"__proto__":2}', '"__proto__"'],
  ])("does not name a member twice: %s", (body, name) => {
    expect(fault(body)).toBe(`The member ${name} stands twice in one object.`);
  });

  it("may use a name again in another object, as a value, or inside a text", () => {
    expect(fault('{"a":"a","b":["a","a"],"c":{"a":"\\"a\\":1"}}')).toBe("none");
  });

  it("of a mebibyte of one kind is read in a moment", () => {
    const most = 1_048_576;
    const bodies = [
      `"${"x".repeat(most - 2)}"`,
      `"${"\\n".repeat(most / 2 - 1)}"`,
      "[".repeat(most / 2) + "]".repeat(most / 2),
      `{${Array.from({ length: 60_000 }, (_, i) => `"name-${i}":1`).join(",")}}`,
    ];
    const begun = performance.now();
    for (const body of bodies) expect(fault(body)).toBe("none");
    expect(performance.now() - begun).toBeLessThan(2_000);
  });
});
