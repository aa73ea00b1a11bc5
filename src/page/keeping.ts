/**
 * Replaces what is shown without taking it away from whoever is using it: what was unfolded stays
 * unfolded, what was scrolled stays there, and the focus stays on the control of the same name.
 */

/** Puts `sections` in the place of what `main` shows. */
export function replaceKeeping(main: HTMLElement, sections: readonly HTMLElement[]): void {
  const open = main.querySelector("details")?.open ?? false;
  const scrolled = main.querySelector(".sheet")?.scrollLeft ?? 0;
  const focused = main.contains(document.activeElement) ? document.activeElement?.id : "";
  main.replaceChildren(...sections);
  for (const details of main.querySelectorAll("details")) details.open = open;
  main.querySelector(".sheet")?.scrollTo({ left: scrolled });
  if (focused) document.getElementById(focused)?.focus();
}

/** Where the sheet is wider than the page, begins at the present: the latest hours are what is asked for. */
export function bringNowIntoSight(main: HTMLElement): void {
  const sheet = main.querySelector(".sheet");
  const now = sheet?.querySelector(".now-strip .now-line")?.getBoundingClientRect();
  if (sheet && now) sheet.scrollLeft += now.right - sheet.getBoundingClientRect().right + 160;
}
