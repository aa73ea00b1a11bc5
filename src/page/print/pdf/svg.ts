/** A drawing as the text of an SVG, as the PDF library takes it. */

import type { Block, Shape } from "../sheet.js";

const TEXT = 7;
/** As print.css has them: less than black, for a printer's sake. */
const FILLED = "#555";
const FAINT = "#bbb";

/** `font` is the family under which the PDF has its typeface. */
export function svgOf(
  drawing: Extract<Block, { kind: "drawing" }>,
  font: string,
  show: (text: string) => string,
): string {
  const { width, height, shapes } = drawing;
  const drawn = shapes.map((shape) => shapeOf(shape, font, show)).join("");
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${place(height)}">${drawn}</svg>`;
}

function shapeOf(shape: Shape, font: string, show: (text: string) => string): string {
  switch (shape.kind) {
    case "area": {
      const [x, y, width, height] = [shape.x, shape.y, shape.width, shape.height].map(place);
      const fill = shape.filled ? FILLED : "none";
      return `<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="${fill}" stroke="black" stroke-width="0.5"/>`;
    }
    case "line": {
      const points = shape.points.map(([x, y]) => `${place(x)},${place(y)}`).join(" ");
      return `<polyline points="${points}" fill="none" stroke="${shape.faint ? FAINT : "black"}" stroke-width="${shape.thick}"/>`;
    }
    case "text": {
      const anchor = shape.middle ? "middle" : "start";
      const where = `x="${place(shape.x)}" y="${place(shape.y)}" text-anchor="${anchor}"`;
      return `<text ${where} font-family="${font}" font-size="${TEXT}">${escaped(show(shape.text))}</text>`;
    }
  }
}

function place(length: number): string {
  return String(Math.round(length * 100) / 100);
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}
