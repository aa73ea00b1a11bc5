/** The papers there are, and how much of a page is left between the margins. */

export type Paper = "a4" | "letter";

const POINTS_PER_MM = 72 / 25.4;

/** Millimetres, upright: ISO 216, and ANSI/ASME Y14.1 (8.5 × 11 in). */
const SIZES: Readonly<Record<Paper, { readonly width: number; readonly height: number }>> = {
  a4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
};

/** Room around the text, in millimetres: every printer reaches so far. */
export const MARGIN = 12;

export interface PageSize {
  /** Points of 1/72 in. */
  readonly width: number;
  readonly height: number;
}

/** A page of the paper, in points. */
export function pageOf(paper: Paper, landscape: boolean): PageSize {
  const { width, height } = SIZES[paper];
  const [across, down] = landscape ? [height, width] : [width, height];
  return { width: across * POINTS_PER_MM, height: down * POINTS_PER_MM };
}

/** Where letters are written on US Letter: Canada, Mexico, the United States and some of their neighbours (CLDR). */
const LETTER_REGIONS = new Set("BZ CA CL CO CR GT MX NI PA PH PR SV US VE".split(" "));

/** The paper that is likely in the printer, by the languages of the browser. */
export function usualPaper(languages: readonly string[]): Paper {
  const region = languages.map((tag) => new Intl.Locale(tag).region).find((found) => found !== undefined);
  return region !== undefined && LETTER_REGIONS.has(region) ? "letter" : "a4";
}
