/** A drawing as elements of the page. */

import type { Block, Shape } from "./sheet.js";

export function DrawingShown({ drawing }: { readonly drawing: Extract<Block, { kind: "drawing" }> }) {
  const { label, width, height, shapes } = drawing;
  return (
    <svg className="paper-drawing" role="img" aria-label={label} viewBox={`0 0 ${width} ${height}`}>
      {shapes.map((shape, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: shapes of a drawing have no other name than their place
        <ShapeShown key={index} shape={shape} />
      ))}
    </svg>
  );
}

function ShapeShown({ shape }: { readonly shape: Shape }) {
  switch (shape.kind) {
    case "area": {
      const { x, y, width, height, filled } = shape;
      return <rect className={filled ? "filled" : "outline"} x={x} y={y} width={width} height={height} />;
    }
    case "line": {
      const { points, thick, faint } = shape;
      return (
        <polyline
          className={faint ? "faint" : undefined}
          points={points.map((point) => point.join(",")).join(" ")}
          strokeWidth={thick}
        />
      );
    }
    case "text":
      return (
        <text x={shape.x} y={shape.y} textAnchor={shape.middle ? "middle" : "start"}>
          {shape.text}
        </text>
      );
  }
}
