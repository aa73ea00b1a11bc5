/**
 * Ratios of whole numbers: how a dose is multiplied and divided before its one rounding.
 * Invariant: the denominator is above zero. Products are not reduced, since a dose takes a handful of
 * factors and is rounded straight away.
 */

export interface Ratio {
  readonly n: bigint;
  readonly d: bigint;
}

export const ONE: Ratio = { n: 1n, d: 1n };

/** The ratio of two whole numbers; throws a RangeError unless the denominator is above zero. */
export function ratio(n: bigint | number, d: bigint | number = 1n): Ratio {
  const denominator = BigInt(d);
  if (denominator <= 0n) throw new RangeError(`not a denominator: ${denominator}`);
  return { n: BigInt(n), d: denominator };
}

export function times(a: Ratio, b: Ratio): Ratio {
  return { n: a.n * b.n, d: a.d * b.d };
}

/** The sum, reduced: a sum of many would else grow without bound. */
export function sum(a: Ratio, b: Ratio): Ratio {
  if (a.n === 0n) return b;
  return reduced(a.d === b.d ? { n: a.n + b.n, d: a.d } : { n: a.n * b.d + b.n * a.d, d: a.d * b.d });
}

/** The same value in its smallest whole numbers. */
export function reduced({ n, d }: Ratio): Ratio {
  let [a, b] = [n < 0n ? -n : n, d];
  while (b > 0n) [a, b] = [b, a % b];
  return { n: n / a, d: d / a };
}

/** `a` divided by `b`; throws a RangeError unless `b` is above zero. */
export function dividedBy(a: Ratio, b: Ratio): Ratio {
  return ratio(a.n * b.d, a.d * b.n);
}

/**
 * The multiple of `step` nearest to a value, a half going up.
 * Throws a RangeError for a value below zero (where up and away from zero part) or a step that is
 * not a whole number above zero.
 */
export function nearestMultiple(value: Ratio, step: number): bigint {
  if (value.n < 0n) throw new RangeError(`below zero: ${value.n}/${value.d}`);
  if (!Number.isSafeInteger(step) || step <= 0) throw new RangeError(`not a step: ${step}`);
  const size = BigInt(step) * value.d;
  return ((2n * value.n + size) / (2n * size)) * BigInt(step);
}

/** A value of any sign to so many decimals, a half going away from zero: for showing it, once. */
export function decimal(value: Ratio, places: number): number {
  const magnitude = { n: value.n < 0n ? -value.n : value.n, d: value.d };
  const nearest = Number(nearestMultiple({ n: magnitude.n * 10n ** BigInt(places), d: magnitude.d }, 1));
  return (nearest === 0 || value.n >= 0n ? nearest : -nearest) / 10 ** places;
}
