/** How wide an element is, followed as it changes, and how wide a text is: the picture is laid out for that. */

import { type RefCallback, useCallback, useRef, useState } from "react";

/** A ref for the element, and its width in pixels; 0 before it is there. */
export function useWidth(): [RefCallback<HTMLElement>, number] {
  const [width, setWidth] = useState(0);
  const observer = useRef<ResizeObserver | null>(null);
  const ref = useCallback((element: HTMLElement | null) => {
    observer.current?.disconnect();
    if (element === null) return;
    setWidth(element.clientWidth);
    observer.current = new ResizeObserver(() => setWidth(element.clientWidth));
    observer.current.observe(element);
  }, []);
  return [ref, width];
}

const canvas = document.createElement("canvas").getContext("2d");

/** Pixels that a text takes in the page's typeface, at a size in pixels. */
export function textWidth(text: string, size: number, weight: 400 | 600): number {
  if (canvas === null) return text.length * size * 0.62;
  canvas.font = `${weight} ${size}px ${getComputedStyle(document.documentElement).fontFamily}`;
  return canvas.measureText(text).width;
}
