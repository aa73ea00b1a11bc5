/**
 * Stopping: the first SIGTERM or SIGINT asks the program to finish what it has begun, a second one ends
 * it at once.
 */

import { constants } from "node:os";

const SIGNALS = ["SIGTERM", "SIGINT"] as const;

/**
 * A terminal's Ctrl-C arrives twice, from the terminal and through npm. What comes this soon after the
 * first signal is taken for its echo; in milliseconds.
 */
const ECHO = 500;

/**
 * Runs `stop` at the first signal; once it is done, nothing keeps the program from ending by itself. At a
 * second signal ends the program as the signal alone would have, with 128 and its number.
 */
export function stopOnSignal(stop: () => Promise<void>): void {
  let first: number | undefined;
  for (const signal of SIGNALS) {
    process.on(signal, () => {
      const now = performance.now();
      if (first === undefined) {
        first = now;
        void stop();
      } else if (now - first > ECHO) {
        process.exit(128 + constants.signals[signal]);
      }
    });
  }
}
