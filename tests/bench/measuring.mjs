/**
 * Measuring on a machine that others use too: what is compared is run in turns (A B A B …), so that a
 * slow moment strikes both, and what counts is the median. Times are in milliseconds.
 */

/**
 * Runs every subject once per round, beginning with another one each round, and times each run.
 *
 * @template {string} Name
 * @param {Record<Name, () => unknown>} subjects
 * @param {{ rounds: number, warmUp?: number }} asked `warmUp` rounds are run first and not counted.
 * @returns {Promise<Record<Name, number[]>>} the times of each subject, by round
 */
export async function inTurns(subjects, { rounds, warmUp = 0 }) {
  const names = /** @type {Name[]} */ (Object.keys(subjects));
  const times = /** @type {Record<Name, number[]>} */ (Object.fromEntries(names.map((name) => [name, []])));
  for (let round = -warmUp; round < rounds; round++) {
    for (let i = 0; i < names.length; i++) {
      const name = names[(i + round + warmUp) % names.length];
      const time = await timed(subjects[name]);
      if (round >= 0) times[name].push(time);
    }
  }
  return times;
}

/**
 * A clock on which a minute goes by in a second, so that what is charted as fast as a machine can lies no
 * closer together than what people chart.
 *
 * @param {number} from the instant, not long ago, at which it was right
 */
export function hastened(from) {
  return () => from + (Date.now() - from) * 60;
}

/** How long something takes. */
export async function timed(run) {
  const begun = performance.now();
  await run();
  return performance.now() - begun;
}

/** The value below which a share of the values lies (nearest rank). */
export function quantile(values, share) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))];
}

/** The middle value, or the mean of the two in the middle. */
export function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2;
}
