/** Tables as comma-separated values, as RFC 4180 has them and no spreadsheet runs them. */

import fc from "fast-check";
import { expect, it } from "vitest";
import { csv, type Field } from "../../src/wire/csv.js";
import { readBack } from "./csv.js";

it("quotes what needs it, and ends every row with CRLF", () => {
  const rows = [
    ["plain", 'said "so"', "one, two"],
    ["two\r\nlines", "two\nlines", null],
    [0, -5.5, true],
  ];
  expect(csv(["a", "b,c", "d"], rows)).toBe(
    'a,"b,c",d\r\nplain,"said ""so""","one, two"\r\n"two\r\nlines","two\nlines",\r\n0,-5.5,yes\r\n',
  );
});

it.each(["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1+1", '=HYPERLINK("http://x","y")'])(
  "makes no formula of %j",
  (text) => {
    const [, row = ""] = csv(["a"], [[text]]).split(/(?<=^a\r\n)/);
    expect(row.replace(/^"/, "")).toMatch(/^'/);
  },
);

it("is read back as it was written, whatever stands in it", () => {
  const text = fc.oneof(fc.string(), fc.string({ unit: fc.constantFrom('"', ",", "\r", "\n", "=", "a") }));
  const table = fc.array(fc.array(text, { minLength: 2, maxLength: 2 }), { maxLength: 5 });
  fc.assert(
    fc.property(table, (rows) => {
      const back = readBack(csv(["a", "b"], rows as Field[][]));
      const guarded = (one: string) => (/^[=+\-@\t\r\n＝＋－＠]/.test(one) ? `'${one}` : one);
      expect(back).toEqual([["a", "b"], ...rows.map((row) => row.map(guarded))]);
    }),
  );
});
