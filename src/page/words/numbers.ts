/**
 * How numbers are written in a language: never a trailing zero (5, not 5.0), always a leading one (0.5), a real
 * minus sign. The usual rules against tenfold misreadings; the values themselves are the server's.
 */

export interface Numbers {
  /** A volume or rate, at most 3 decimals as the API sends them: "1,011.4". */
  figure(value: number): string;
  /** A volume as a device shows it: running totals are computed to the microlitre, a nurse compares tenths. */
  tenths(millilitres: number): string;
  /** The sign between whole and parts. */
  readonly decimal: string;
}

/** The numbers of a locale such as "en-US" or "es". */
export function numbersIn(locale: string): Numbers {
  const format = new Intl.NumberFormat(locale, {
    maximumFractionDigits: 3,
    signDisplay: "negative",
    useGrouping: "always",
    numberingSystem: "latn",
  });
  // Where the comma is the decimal sign a point between thousands could be read as one: a space is not.
  const decimal = format.formatToParts(0.5).find(({ type }) => type === "decimal")?.value ?? ".";
  const figure = (value: number) =>
    format
      .formatToParts(value)
      .map(({ type, value: text }) => {
        if (type === "minusSign") return "\u2212";
        return type === "group" && decimal === "," ? "\u202f" : text;
      })
      .join("");
  return { figure, decimal, tenths: (millilitres) => figure(Math.round(millilitres * 10) / 10) };
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
