/**
 * Whether somebody is at the page. The service signs out whom it has not heard of for a while; so what a
 * person asks for says so, and what the page asks by itself says that nobody did (`Unattended: ?1`).
 */

/** A person opened the page. */
let touched = true;

/** Begins to notice whoever touches the page. */
export function noticePeople(): void {
  for (const event of ["pointerdown", "keydown", "wheel", "touchmove"]) {
    addEventListener(event, touch, { passive: true });
  }
}

function touch(): void {
  touched = true;
}

/** Whether anybody touched the page since this was asked last: one touch is one use. */
export function attended(): boolean {
  const was = touched;
  touched = false;
  return was;
}
