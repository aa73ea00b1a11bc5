/** The heading of a view, which takes the focus when the view comes up, so that it is read and tabbed from. */

import { type ReactNode, useEffect, useRef } from "react";

interface ViewHeadingProps {
  readonly className?: string;
  readonly children: ReactNode;
}

export function ViewHeading({ className, children }: ViewHeadingProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus({ preventScroll: true }), []);
  return (
    <h1 ref={heading} className={className} tabIndex={-1}>
      {children}
    </h1>
  );
}
