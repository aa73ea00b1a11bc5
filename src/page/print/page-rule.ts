/**
 * How the browser lays out pages while a sheet is looked at: the paper, its margins, and the number of each page
 * in the margin. A browser that knows no boxes in the margin leaves the number out; the PDF has it everywhere.
 */

import { useEffect } from "react";
import { MARGIN, type Paper } from "./paper.js";

/** `number` says "page 1 of 2" of two CSS counters, such as `number("A", "B")`. */
export function pageRule(
  paper: Paper,
  landscape: boolean,
  number: (page: string, of: string) => string,
): string {
  const [before = "", between = "", after = ""] = number("\0", "\0").split("\0");
  const content = `${quoted(before)} counter(page) ${quoted(between)} counter(pages) ${quoted(after)}`;
  return `@page {
  size: ${paper === "a4" ? "A4" : "letter"} ${landscape ? "landscape" : "portrait"};
  margin: ${MARGIN}mm;
  @bottom-right { content: ${content}; font: 8pt sans-serif; }
}`;
}

/** A string of CSS: only quotes, backslashes and line ends would mean anything in it. */
function quoted(text: string): string {
  return `"${text.replace(/["\\\n]/g, (one) => `\\${one.codePointAt(0)?.toString(16)} `)}"`;
}

/** Adopts the rule as long as the view is there: a style element would need leave that the service does not give. */
export function usePageRule(rule: string): void {
  useEffect(() => {
    const style = new CSSStyleSheet();
    style.replaceSync(rule);
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, style];
    return () => {
      document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== style);
    };
  }, [rule]);
}
