/**
 * What stands around every view: the title, the banner over invented data, one place for messages, and
 * the caution. The views replace what is in `main` and nothing else.
 */

import { element } from "./elements.js";
import { patterns } from "./legend.js";
import { words } from "./words.js";

interface Frame {
  readonly main: HTMLElement;
  /** Shows what there is to act on at the right of the title. */
  offer(acts: readonly { text: string; act: () => void }[]): void;
  /** The banner stands over a unit whose name says that its data are invented. */
  announceUnit(name: string | null): void;
  /** A quiet word beside the title, "" for none; not read out, since it changes every minute. */
  tell(text: string): void;
  /** What went wrong, with a way to try again; null takes it away. */
  fail(failure: { title: string; detail: string; again: () => void } | null): void;
}

/** Builds the frame into `root`. */
export function frameIn(root: HTMLElement): Frame {
  const banner = element("p", { class: "banner" }, words.invented);
  const acts = element("div", { class: "acts" });
  const status = element("p", { class: "soft" });
  const failure = element("div", { class: "notice", role: "alert" });
  const main = element("main", { id: "main" });
  banner.hidden = true;
  failure.hidden = true;
  root.replaceChildren(
    patterns(),
    banner,
    element("header", { class: "top" }, element("p", { class: "title" }, words.title), status, acts),
    failure,
    main,
    element("footer", {}, element("p", {}, words.caution)),
  );
  return {
    main,
    offer(offered) {
      const buttons = offered.map(({ text, act }) => {
        const button = element("button", { type: "button", class: "plain" }, text);
        button.addEventListener("click", act);
        return button;
      });
      acts.replaceChildren(...buttons);
    },
    announceUnit(name) {
      banner.hidden = !(name?.toLowerCase().includes("invented") ?? false);
    },
    tell(text) {
      status.textContent = text;
    },
    fail(what) {
      failure.hidden = what === null;
      if (what === null) return failure.replaceChildren();
      const again = element("button", { type: "button" }, words.failed.again);
      again.addEventListener("click", what.again);
      failure.replaceChildren(element("p", {}, element("strong", {}, what.title), " ", what.detail), again);
    },
  };
}
