/**
 * How numbers are written: never a trailing zero (5, not 5.0), always a leading one (0.5), commas from
 * a thousand on. The usual rules against tenfold misreadings; the values themselves are the server's.
 */

/** A volume or rate in plain digits, at most 3 decimals as the API sends them. */
export function figure(value: number): string {
  const thousandths = Math.round(Math.abs(value) * 1000);
  const whole = Math.floor(thousandths / 1000);
  const decimals = String(thousandths % 1000)
    .padStart(3, "0")
    .replace(/0+$/, "");
  const grouped = String(whole).replace(/\B(?=(\d{3})+$)/g, ",");
  const sign = value < 0 && thousandths !== 0 ? "\u2212" : "";
  return sign + grouped + (decimals === "" ? "" : `.${decimals}`);
}

/** A volume as a device shows it: the service computes running totals to the microlitre, a nurse compares tenths. */
export function tenths(millilitres: number): string {
  return figure(Math.round(millilitres * 10) / 10);
}

/** Minutes as people say them: "35 min", "1 h", "1 h 20 min"; anything below a minute is a minute. */
export function duration(milliseconds: number): string {
  const minutes = Math.max(1, Math.round(milliseconds / 60_000));
  const hours = Math.floor(minutes / 60);
  if (hours === 0) return `${minutes} min`;
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
}

/** Keeps each number and its unit on one line ("0.9 %", "50 mL"), whoever wrote the text. */
export function together(text: string): string {
  return text.replace(/(\d) (?=\S)/g, "$1\u00a0");
}
