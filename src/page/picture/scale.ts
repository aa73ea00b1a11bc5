/**
 * From hours and rates to pixels. One scale serves every line of the picture, and the columns of the
 * table stand on the same axis, so equal areas are equal volumes and each number stands under its hour.
 */

const HOUR = 3_600_000;

/** Below this a figure is too narrow to touch; the sheet scrolls sideways instead. */
const NARROWEST = 44;

export interface Axis {
  /** Widths in pixels: names on the left, the hours, totals on the right. */
  readonly left: number;
  readonly plot: number;
  readonly right: number;
  readonly columns: readonly number[];
  readonly perHour: number;
  /** Pixels from the left edge of the hours to a moment. */
  x(moment: number): number;
}

/**
 * The axis of a shift over `width` pixels; every interval as wide as it is long, and no hour narrower than
 * `narrowest`, which its longest figure may ask for.
 */
export function axisOf(
  intervals: readonly { start: number; end: number }[],
  width: number,
  narrowest = NARROWEST,
): Axis {
  const left = Math.round(Math.min(224, Math.max(102, width * 0.15 - 16)));
  const right = width < 900 ? 64 : 92;
  const from = intervals[0]?.start ?? 0;
  const to = intervals.at(-1)?.end ?? from + HOUR;
  const shortest = Math.min(HOUR, ...intervals.map((interval) => interval.end - interval.start));
  const needed = (Math.max(NARROWEST, narrowest) * (to - from)) / shortest;
  const plot = Math.max(width - left - right, needed);
  const x = (moment: number) => (plot * (moment - from)) / (to - from);
  return {
    left,
    right,
    plot,
    columns: intervals.map((interval) => x(interval.end) - x(interval.start)),
    perHour: (plot * HOUR) / (to - from),
    x,
  };
}

/**
 * Pixels per mL/h such that the lines' crests together fill the height there is, yet a single
 * slow infusion does not fill the page.
 */
export function thickness(crests: readonly number[]): number {
  const together = crests.reduce((sum, crest) => sum + crest, 0);
  if (together === 0) return 1;
  const flowing = crests.filter((crest) => crest > 0).length;
  return Math.min(340, 60 + 70 * flowing) / together;
}

export interface ScaleSquare {
  /** mL */
  readonly volume: number;
  /** Pixels along each side. */
  readonly side: number;
}

/** The largest round volume whose square is at most so many pixels wide: side² = mL × px per hour × px per mL/h. */
export function scaleSquare(perHour: number, perRate: number, widest = 36): ScaleSquare {
  const most = widest ** 2 / (perHour * perRate);
  const power = 10 ** Math.floor(Math.log10(most));
  const volume = power * ([5, 2].find((digit) => digit * power <= most) ?? 1);
  return { volume, side: Math.sqrt(volume * perHour * perRate) };
}
