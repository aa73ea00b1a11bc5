/**
 * How to read the picture: the scale square, the two hues, and those textures that occur on this sheet.
 * Also defines the patterns the textures are drawn with.
 */

import type { Basis, Volumes } from "./answers.js";
import { drawn, element } from "./elements.js";
import { isAdded, type Lane } from "./lanes.js";
import { figure } from "./numbers.js";
import type { ScaleSquare } from "./scale.js";
import { words } from "./words.js";

const SLANT = "M-2 10L10 -2M-2 2L2 -2M6 10L10 6";
const BASES: readonly Basis[] = ["measured", "apportioned", "computed", "disputed"];

/** The legend for what these lanes show. */
export function legend(lanes: readonly Lane[], channels: Volumes, square: ScaleSquare): HTMLElement | null {
  if (lanes.every((lane) => lane.bands.length === 0)) return null;
  const added = lanes.some((lane) => lane.bands.some((band) => isAdded(band.flow.source.role)));
  const found = new Set(channels.rows.flatMap((row) => row.basis));
  return element(
    "ul",
    { class: "legend" },
    element("li", {}, squareOf(square), words.hours.square(square.volume)),
    added && element("li", {}, swatch("primary", null), words.hours.primary),
    added && element("li", {}, swatch("added", null), words.hours.added),
    ...BASES.filter((basis) => found.has(basis)).map((basis) =>
      element("li", {}, swatch("plain", basis), words.bases[basis]),
    ),
  );
}

function squareOf({ volume, side }: ScaleSquare): SVGElement {
  const size = side + 2;
  return drawn(
    "svg",
    { class: "swatch", width: size, height: size, role: "img", "aria-label": `${figure(volume)} mL` },
    drawn("rect", { class: "scale-square", x: 1, y: 1, width: side, height: side }),
  );
}

function swatch(hue: "primary" | "added" | "plain", basis: Basis | null): SVGElement {
  const size = { x: 1, y: 1, width: 26, height: 14 };
  return drawn(
    "svg",
    { class: "swatch", width: 28, height: 16, "aria-hidden": "true" },
    drawn(
      "g",
      { class: `band ${hue}` },
      drawn("rect", { class: "body", ...size }),
      basis !== null && drawn("rect", { class: `ink ${basis}`, ...size }),
      drawn("rect", { class: "edge", ...size }),
    ),
  );
}

/** The patterns page.css refers to; put into the document once. */
export function patterns(): SVGElement {
  const tile = (id: string, d: string, size: number, hue: string, ground: SVGElement | null = null) =>
    drawn(
      "pattern",
      { id, width: size, height: size, patternUnits: "userSpaceOnUse" },
      ground,
      drawn("path", { class: `thread ${hue}`, d }),
    );
  const filled = drawn("rect", { class: "ground-of-added", width: 8, height: 8 });
  const hues = ["primary", "added", "plain"];
  return drawn(
    "svg",
    { class: "patterns", width: 0, height: 0, "aria-hidden": "true" },
    drawn(
      "defs",
      {},
      tile("slant-added", SLANT, 8, "added"),
      tile("slant-filled", SLANT, 8, "paper", filled),
      ...hues.map((hue) => tile(`lines-${hue}`, "M0 1.5H4", 4, hue)),
      ...hues.map((hue) => tile(`crossed-${hue}`, "M0 0L8 8M0 8L8 0", 8, hue)),
    ),
  );
}
