/** Going from view to view: what the address chooses, and choosing something else. */

import { useMemo, useSyncExternalStore } from "react";
import { addressOf, type Choice, choiceIn } from "../address.js";

const WENT = "went";

function subscribe(changed: () => void): () => void {
  addEventListener("popstate", changed);
  addEventListener(WENT, changed);
  return () => {
    removeEventListener("popstate", changed);
    removeEventListener(WENT, changed);
  };
}

export function useChoice(): Choice {
  const search = useSyncExternalStore(subscribe, () => location.search);
  return useMemo(() => choiceIn(search), [search]);
}

/** Chooses something else; what is not named stays as it is. */
export function go(next: Partial<Choice>): void {
  const choice = { ...choiceIn(location.search), ...next };
  history.pushState(null, "", location.pathname + addressOf(choice));
  dispatchEvent(new Event(WENT));
}
