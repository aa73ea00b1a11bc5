/**
 * Which of two media types an answer has, by the `Accept` of the request (RFC 9110, section 12.5.1). Where
 * neither is acceptable JSON is sent all the same, as that section allows.
 */

/** Whether a caller prefers a table of comma-separated values to JSON; of equal ones JSON is sent. */
export function prefersCsv(accept: string | undefined): boolean {
  if (accept === undefined) return false;
  const ranges = accept.split(",").flatMap(rangeOf);
  return weightOf("text/csv", ranges) > weightOf("application/json", ranges);
}

interface Range {
  readonly type: string;
  readonly weight: number;
}

function rangeOf(text: string): Range[] {
  const [type = "", ...parameters] = text.split(";").map((part) => part.trim().toLowerCase());
  const given = parameters.find((one) => one.startsWith("q="))?.slice(2);
  const weight =
    given === undefined ? 1 : /^(?:0(?:\.\d{0,3})?|1(?:\.0{0,3})?)$/.test(given) ? Number(given) : 0;
  return /^[\w.+*-]+\/[\w.+*-]+$/.test(type) ? [{ type, weight }] : [];
}

/** The weight of the most specific range that a type is in. */
function weightOf(type: string, ranges: readonly Range[]): number {
  const [family] = type.split("/");
  for (const range of [type, `${family}/*`, "*/*"]) {
    const found = ranges.find((one) => one.type === range);
    if (found !== undefined) return found.weight;
  }
  return 0;
}
