/**
 * Makes elements. Attributes are set one by one and text only as text, so nothing that came from the
 * API is ever read as markup, and no style attribute is written (the service forbids inline styles).
 */

type Attributes = Record<string, string | number | boolean | null | undefined>;
export type Child = Node | string | null | undefined | false;

const SVG = "http://www.w3.org/2000/svg";

/** An HTML element; attributes that are null, undefined or false are left out, true is set empty. */
export function element<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  return filled(document.createElement(tag), attributes, children);
}

/** The same for SVG. */
export function drawn<K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): SVGElementTagNameMap[K] {
  return filled(document.createElementNS(SVG, tag), attributes, children);
}

function filled<E extends Element>(made: E, attributes: Attributes, children: readonly Child[]): E {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    made.setAttribute(name, value === true ? "" : String(value));
  }
  made.append(...children.filter((child): child is Node | string => Boolean(child)));
  return made;
}
