/** The shapes of which a drawing on paper consists: areas, lines, texts; and lines across an area as its texture. */

import type { Shape } from "./sheet.js";

/** How far the lines of a texture are apart. */
const APART = 2.2;

export function area(x: number, y: number, width: number, height: number, filled: boolean): Shape {
  return { kind: "area", x, y, width, height, filled };
}

export function line(
  from: readonly [number, number],
  to: readonly [number, number],
  thick = 0.5,
): Extract<Shape, { kind: "line" }> {
  return { kind: "line", points: [from, to], thick, faint: false };
}

/** A line to hold other things against. */
export function faint(from: readonly [number, number], to: readonly [number, number]): Shape {
  return { ...line(from, to), faint: true };
}

export function text(x: number, y: number, said: string, middle = false): Shape {
  return { kind: "text", x, y, text: said, middle };
}

/** Fine lines along an area; crossed, others across them. An area too thin for a line has one in its middle. */
export function lined(x: number, y: number, width: number, height: number, crossed: boolean): Shape[] {
  const along = spread(y, height).map((at) => line([x, at], [x + width, at], 0.4));
  const across = crossed ? spread(x, width).map((at) => line([at, y], [at, y + height], 0.4)) : [];
  return [...along, ...across];
}

/** Places within a length, evenly. */
function spread(from: number, length: number): number[] {
  const count = Math.max(1, Math.floor(length / APART));
  return Array.from({ length: count }, (_, index) => from + ((index + 0.5) * length) / count);
}
