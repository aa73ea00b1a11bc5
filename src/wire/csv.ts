/**
 * Tables as comma-separated values (RFC 4180): CRLF, every field quoted that needs it, one header row. A
 * spreadsheet takes text that begins with certain characters for a formula and runs it; such text gets an
 * apostrophe before it (OWASP, CSV injection). Numbers are numbers and stay as they are.
 */

export type Field = string | number | boolean | null;

/** What begins a formula, in one spreadsheet or another. */
const FORMULA = /^[=+\-@\t\r\n＝＋－＠]/;

export function csv(header: readonly string[], rows: readonly (readonly Field[])[]): string {
  return [header, ...rows].map((row) => `${row.map(fieldText).join(",")}\r\n`).join("");
}

function fieldText(field: Field): string {
  if (field === null) return "";
  if (typeof field === "boolean") return field ? "yes" : "no";
  if (typeof field === "number") return String(field);
  const text = FORMULA.test(field) ? `'${field}` : field;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
