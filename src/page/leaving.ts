/**
 * Whether somebody is at the page. The service signs out whom it has not heard of for a while; so it is told
 * of people who read and scroll, and asked without them whether they are still signed in, so that nothing of
 * a patient stays on a screen that was left.
 */

const EVERY = 60_000;

/** Calls `ask` every minute, and says whether anybody touched the page since the last time. */
export function watchLeaving(ask: (attended: boolean) => void): void {
  let touched = false;
  const touch = () => {
    touched = true;
  };
  for (const event of ["pointerdown", "keydown", "wheel", "touchmove"]) {
    addEventListener(event, touch, { passive: true });
  }
  setInterval(() => {
    ask(touched);
    touched = false;
  }, EVERY);
}
