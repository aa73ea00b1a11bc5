/**
 * How wide a random encounter is and what its numbers look like: times in ms, rates in whole µL/h,
 * volumes in whole µL. Each scale makes another kind of judgement possible.
 */

import fc from "fast-check";

export interface Scale {
  readonly lasts: fc.Arbitrary<number>;
  /** Entries happen at multiples of this after the beginning, so that ties are common. */
  readonly grain: number;
  readonly rate: fc.Arbitrary<number>;
  readonly volume: fc.Arbitrary<number>;
  readonly label: fc.Arbitrary<number>;
}

const HOUR = 3_600_000;
const times = (values: readonly number[], by: number) =>
  fc.constantFrom(...values.map((value) => value * by));
const stays = times([2, 4, 8, 24], HOUR);

/** Powers of two throughout, so that nearly every limit is reached on a whole second. */
export const WHOLE_SECONDS: Scale = {
  lasts: stays,
  grain: 256_000,
  rate: times([5, 10, 20, 40, 80], 3_600),
  volume: fc.integer({ min: 1, max: 16 }).map((n) => n * 20_480),
  label: times([1, 2, 4, 8], 102_400),
};

/** What hangs on a ward: rates and volumes to a tenth, charted by the minute. */
export const REALISTIC: Scale = {
  lasts: stays,
  grain: 60_000,
  rate: fc.oneof(times([20, 75, 80, 100, 125, 150, 200, 300], 1_000), times([1, 8, 21, 833, 9_999], 100)),
  volume: fc.oneof(
    times([10, 20, 50, 100, 250], 1_000),
    fc.integer({ min: 1, max: 3_000 }).map((tenths) => tenths * 100),
  ),
  label: times([50, 100, 250, 500, 1_000], 1_000),
};

/** Any rate, any volume, and instants that are no whole second. */
export const ODD_NUMBERS: Scale = {
  lasts: stays,
  grain: 97_301,
  rate: fc.integer({ min: 1, max: 1_200_000 }),
  volume: fc.integer({ min: 1, max: 400_000 }),
  label: fc.integer({ min: 1_000, max: 1_000_000 }),
};

/** A few seconds looked at by the millisecond, with any rate and any volume, many of them exact fits. */
export const CLOSE_UP: Scale = {
  lasts: times([1, 2, 4], 1_000),
  grain: 50,
  rate: fc.oneof(times([1, 2, 4], 720_000), fc.integer({ min: 1, max: 5_000_000 })),
  volume: fc.oneof(times([1, 2, 4], 100), fc.integer({ min: 1, max: 1_000 })),
  label: fc.oneof(times([2, 4, 10], 100), fc.integer({ min: 1, max: 3_000 })),
};
