/** What nobody sends who means well: values, texts and headers that have broken services before. */

import fc from "fast-check";

const LONG = "x".repeat(70_000);
const DEEP = JSON.parse(`${"[".repeat(200)}1${"]".repeat(200)}`) as unknown;

const VALUES: readonly unknown[] = [
  null,
  true,
  "",
  " ",
  "\u0000",
  "\ud800",
  "\u202etxet",
  "١٢٣",
  "__proto__",
  "constructor",
  "' or 1=1 --",
  "<script>alert(1)</script>",
  "../../etc/passwd",
  LONG,
  -1,
  -0,
  0.0001,
  1e-7,
  1e21,
  1e308,
  9_007_199_254_740_992,
  [],
  {},
  DEEP,
  { $ref: "#" },
  "2026-02-30T00:00:00-06:00",
  "2026-03-08T02:30:00-06:00",
  "+275760-09-13T00:00:00Z",
  "0000-01-01T00:00:00Z",
  "PT999999999S",
];

export const hostileValues: fc.Arbitrary<unknown> = fc.constantFrom(...VALUES);

/** Texts for places in an address, before they are escaped. */
export const hostileTexts: fc.Arbitrary<string> = fc.oneof(
  fc.constantFrom(
    "",
    "..",
    "%00",
    "a/b",
    "a".repeat(5_000),
    "💉",
    "*",
    "null",
    "-1",
    "1e9",
    "[object Object]",
  ),
  fc.string({ maxLength: 30, unit: "binary" }),
);

/** Bodies that are no JSON, or not the JSON they say they are. */
export const hostileBodies: fc.Arbitrary<{ readonly type: string; readonly text: string }> = fc.constantFrom(
  { type: "application/json", text: "" },
  { type: "application/json", text: "{" },
  { type: "application/json", text: "\ufeff{}" },
  { type: "application/json", text: '{"entries":[],"entries":[]}' },
  { type: "application/json", text: '{"__proto__":{"admin":true}}' },
  { type: "application/json", text: `${"[".repeat(20_000)}${"]".repeat(20_000)}` },
  { type: "application/json", text: `"${"x".repeat(1_200_000)}"` },
  { type: "application/json; charset=utf-16", text: "{}" },
  { type: "application/xml", text: "<entries/>" },
  { type: "text/plain", text: "{}" },
  { type: "application/x-www-form-urlencoded", text: "entries=1" },
  { type: "multipart/form-data; boundary=x", text: "--x--" },
  { type: "", text: "{}" },
);

export const hostileHeaders: fc.Arbitrary<Readonly<Record<string, string>>> = fc.constantFrom<
  Readonly<Record<string, string>>
>(
  { authorization: "Bearer" },
  { authorization: "Basic dXNlcjpwYXNz" },
  { authorization: `Bearer ${"a".repeat(5_000)}` },
  { authorization: "Bearer infledger_'; drop table entry; --" },
  { "if-match": '"999999999999999999999"' },
  { "if-match": "*" },
  { "if-match": 'W/"1"' },
  { "if-match": "1" },
  { "if-none-match": '"x", "y"' },
  { "idempotency-key": "k".repeat(5_000) },
  { "idempotency-key": '"' },
  { accept: "application/fhir+json" },
  { "accept-encoding": "x-unheard-of" },
  { "content-encoding": "gzip" },
  { "x-forwarded-for": "not an address" },
  { "x-request-id": "a\tb" },
  { range: "bytes=0-" },
  { "sec-fetch-site": "cross-site" },
  { origin: "null" },
  { origin: "https://evil.example.org" },
  { cookie: "session=" },
  { cookie: `session=${"x".repeat(43)}; browser=${"y".repeat(43)}` },
  { cookie: "session=%00%ff; browser=__proto__" },
  { cookie: `browser=${"z".repeat(5_000)}` },
  { unattended: "?1" },
);

/** A value of a request's body with something hostile put in one place, a field taken out, or one added. */
export function spoiled(body: unknown): fc.Arbitrary<unknown> {
  return fc
    .record({ place: fc.nat({ max: 40 }), doing: fc.constantFrom("put", "drop", "add"), what: hostileValues })
    .map(({ place, doing, what }) => {
      const copy = structuredClone(body);
      const holders = holdersIn(copy);
      const holder = holders[place % Math.max(1, holders.length)];
      if (holder === undefined) return what;
      const names = Object.keys(holder);
      const name = names[place % Math.max(1, names.length)];
      if (doing === "add" || name === undefined) holder["unheard-of"] = what;
      else if (doing === "drop") delete holder[name];
      else holder[name] = what;
      return copy;
    });
}

function holdersIn(value: unknown): Record<string, unknown>[] {
  if (typeof value !== "object" || value === null) return [];
  return [value as Record<string, unknown>, ...Object.values(value).flatMap(holdersIn)];
}
