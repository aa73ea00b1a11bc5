/** A link to another view: opens where it is, or in a tab of its own for who asks their browser for that. */

import type { ReactNode } from "react";
import { addressOf, type Choice } from "../address.js";
import { go } from "../ui/going.js";

interface LinkProps {
  readonly to: Choice;
  /** Whether it is the view that is shown. */
  readonly here?: boolean;
  readonly children: ReactNode;
}

export function Link({ to, here = false, children }: LinkProps) {
  return (
    <a
      className="link"
      href={addressOf(to)}
      aria-current={here ? "page" : undefined}
      onClick={(event) => {
        if (event.metaKey || event.ctrlKey || event.shiftKey) return;
        event.preventDefault();
        go(to);
      }}
    >
      {children}
    </a>
  );
}
