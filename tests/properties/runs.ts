/**
 * How often a property is tried: a few hundred times with the other tests, always the same ones, so that a
 * change is judged by what it changed; and with `LONG_PROPERTIES` that many times as often, on fresh ones.
 * A failure prints its seed; what it teaches is kept in `remembered.ts`.
 */

const LONGER = Number(process.env.LONG_PROPERTIES ?? 1);
const ALWAYS_THE_SAME = process.env.LONG_PROPERTIES === undefined ? { seed: 4_032_026 } : {};

export const runs = (short: number) => ({ numRuns: Math.ceil(short * LONGER), ...ALWAYS_THE_SAME });

/** How long a property may take, in ms. */
export const PATIENCE = 60_000 * Math.max(1, LONGER);
