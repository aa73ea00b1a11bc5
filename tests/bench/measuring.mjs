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

export function median(values) {
  return quantile(values, 0.5);
}
