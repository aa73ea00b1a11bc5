/**
 * How often a property is tried: a few hundred times with the other tests, and `LONG_PROPERTIES` times as
 * often when that is set. What a failure teaches is kept in `remembered.ts`.
 */

const LONGER = Number(process.env.LONG_PROPERTIES ?? 1);

export const runs = (short: number) => ({ numRuns: Math.ceil(short * LONGER) });

/** How long a property may take, in ms. */
export const PATIENCE = 60_000 * Math.max(1, LONGER);
